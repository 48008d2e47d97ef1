#pragma once
#include <span>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

/// The numbers of a scenario that the live page works with, one after another in SI; what is not
/// given is NaN. Names and other texts stay behind. The order is known to these two alone.
std::vector<double> flat_scenario(const Scenario& scenario);
/// Throws Error if the numbers do not end where they should.
Scenario scenario_from_flat(std::span<const double> numbers);

}  // namespace boxroom
