#pragma once
#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// Turns a box into one that can be sawn, in whole millimetres or sixteenths of an inch. The outer
/// size follows from the same rule that `plan` judges by (enclosure()), to within two steps.
/// Throws Error where the driver's hole, the amplifier's or a piece does not fit.
BoxBuild build_box(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Units units);

/// About what a finished box of this net volume weighs [kg]: board, driver, amplifier, filling.
double finished_weight(const Scenario& scenario, double net_volume);

}  // namespace boxroom
