#pragma once
#include <string>

#include "report/report.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// A <figure> of a floor map: the room as it is, seen from above, the values as bands of colour
/// with lines of equal value, seats, boxes, kept-free ground, and the scale of the colours below.
/// SVG alone: nothing of it needs more than a browser to be drawn.
std::string floor_map_figure(const FloorMap& map, const ReportInput& in);

}  // namespace boxroom
