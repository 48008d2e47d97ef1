#pragma once
#include "solvers/room.hpp"

namespace boxroom {

/// The L that several tests solve: its edges in turn of two walls, floor and ceiling of a third.
inline Room l_shaped_room(const Wall& even, const Wall& odd, const Wall& level) {
    Room room{4.8, 4.2, 2.4, {}, {}};
    room.plan.outline = {{0, 0, 0},     {4.8, 0, 0},   {4.8, 2.4, 0},
                         {3.0, 2.4, 0}, {3.0, 4.2, 0}, {0, 4.2, 0}};
    for (int i = 0; i < 6; ++i) room.plan.edges.push_back({"", i % 2 ? odd : even, ""});
    room.walls[floor_wall] = room.walls[ceiling_wall] = level;
    return room;
}

}  // namespace boxroom
