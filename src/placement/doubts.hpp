#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// What a room file says that can hardly be meant, each as a question with the mend: numbers of the
/// driver far from any that is sold (bounds of common practice, from memory), a sub in a wall, on a
/// seat or on floor that is kept free, a floor on which no box may stand at all.
std::vector<std::string> doubts(const Scenario& scenario, const Driver& driver, Units units);

}  // namespace boxroom
