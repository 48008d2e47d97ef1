#pragma once
#include <utility>
#include <vector>

#include "results/seat.hpp"

namespace boxroom {

/// The pieces of a straight line that lie inside a closed polygon (even-odd rule), from low to
/// high. The line has a fixed y and runs along x, or has a fixed x where `along_y`; a line through a
/// corner counts as the one a hair beyond it.
std::vector<std::pair<double, double>> inside_outline(const std::vector<Point>& outline, double at,
                                                      bool along_y = false);

/// What of the rectangle (0, 0) to (width, length) lies outside the polygon, as rectangles. Exact for
/// edges along the axes; a slanted edge becomes a staircase of steps of at most 0.1 m that lies in
/// the polygon, so that what keeps off the rectangles keeps inside. Empty for an empty outline.
std::vector<KeepOut> outside_outline(const std::vector<Point>& outline, double width,
                                     double length);

}  // namespace boxroom
