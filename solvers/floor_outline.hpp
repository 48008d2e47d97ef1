#pragma once
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// The corners of the floor in order: of its plan, or of the rectangle, from the front left corner
/// along the front wall.
std::vector<Point> floor_outline(const Room& room);

}  // namespace boxroom
