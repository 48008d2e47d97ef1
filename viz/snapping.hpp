#pragma once
#include <vector>

#include "results/seat.hpp"

namespace boxroom {

/// The floor as a box sees it.
struct FloorLimits {
    double width = 0, length = 0;  ///< room [m]
    double gap = 0;                ///< box to wall [m]
    std::vector<KeepOut> keep_outs;
};

/// The allowed place of a box (outer width x depth) nearest to `wanted`: at least a gap off every
/// wall, on no keep-out; coordinates within `magnet` of a wall or of a keep-out's edge take that
/// edge. The nearest point of a region with edges along the axes is the wanted point, its
/// projection on an edge or a crossing of two edges, so all of these are tried. Where no place is
/// allowed at all, the middle of the room along the axes that are too short, as near as can be.
Point snap_box(const FloorLimits& floor, double box_width, double box_depth, Point wanted,
               double magnet);

/// Whether a box centred there stands within the walls' gaps and on no keep-out (0.1 mm of grace).
bool box_allowed(const FloorLimits& floor, double box_width, double box_depth, Point at);

/// The same corner for another box: along each axis the distance of the box's side to the nearer
/// wall stays as it was.
Point keep_distance(const FloorLimits& floor, Point at, double old_width, double old_depth,
                    double new_width, double new_depth);

/// A seat stays in the room, `margin` off the walls and the keep-outs, at its height; `gap` does not
/// count.
Point snap_seat(const FloorLimits& floor, Point wanted, double margin);

}  // namespace boxroom
