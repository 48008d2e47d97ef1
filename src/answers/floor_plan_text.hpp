#pragma once
#include <string>

#include "base/units.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// The floor seen from above in plain characters, front wall at the top, to scale (a character is
/// taken to be twice as high as wide): seats as 1, 2, 3 ..., subs as A, B, C ..., floor kept free
/// as #, with a key. At most 64 columns and 24 rows.
std::string floor_plan_text(const Scenario& scenario, Units units);

}  // namespace boxroom
