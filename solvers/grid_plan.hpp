#pragma once
#include "solvers/grid_shape.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// What cutting a plan into cells has changed.
struct PlanFit {
    double outline_error = 0;   ///< furthest that a face of the plan moved [m]
    double volume_error = 0;    ///< air volume of the grid over the true one, less one
    double steepest_scale = 1;  ///< smallest factor from a staircase's area to the true one
};

/// A room with any plan, cut into cells not above `spacing` [m]. The number of cells along each
/// axis is chosen so that walls, blocks, spaces and openings lie as near to planes of the grid as
/// they can. Slanted edges become staircases whose surfaces count with their true area. Between a
/// room and a space there is always at least one solid cell, through which openings lead.
GridShape grid_of_plan(const Room& room, const Air& air, double spacing, PlanFit* fit = nullptr);

}  // namespace boxroom
