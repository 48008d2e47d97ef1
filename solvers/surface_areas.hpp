#pragma once
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// Area and wall of every surface that the room's air touches: walls or edges of the plan, floor
/// and ceiling, then blocks. Blocks stand on the floor they hide.
std::vector<WallPart> surfaces_by_area(const Room& room);

}  // namespace boxroom
