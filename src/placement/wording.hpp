#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// What a spot that gives these criteria has over the middling one, in one sentence.
std::string spot_reason(const Criteria& there, const std::vector<RankedSpot>& spots);
/// Fills recommendation, reason_spot, reason_box, how_much and cautions.
void write_plan_words(Plan& plan, const Scenario& scenario, Units units);

}  // namespace boxroom
