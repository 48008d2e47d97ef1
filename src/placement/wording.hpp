#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// What the first spot has over the rest, in one sentence.
std::string spot_reason(const std::vector<RankedSpot>& spots);
/// Fills recommendation, reason_spot, reason_box, how_much and cautions.
void write_plan_words(Plan& plan, const Scenario& scenario, Units units);

}  // namespace boxroom
