#pragma once
#include "placement/scenario.hpp"

namespace boxroom {

/// The place itself, kept between the walls of the rectangle around the floor, or, where a block or
/// a wall of a room that is no rectangle is in its way, the nearest at its height that is in the
/// air, to about 2 cm; the same place where there is none.
Point in_the_air(const Point& place, const Room& room);

/// The same for the centre on the floor of a box, turned as it stands: one [spots] gap off the
/// walls of a room that is no rectangle, and off its blocks.
Point free_of_walls(const Point& footprint, const Sides& standing, const Scenario& scenario);

}  // namespace boxroom
