#pragma once
#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// Fills the remarks and cautions of a box that is otherwise complete.
void write_building_words(BoxBuild& build, const Scenario& scenario, Units units);

}  // namespace boxroom
