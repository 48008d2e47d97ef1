#include "solvers/floor_outline.hpp"

namespace boxroom {

std::vector<Point> floor_outline(const Room& room) {
    if (!room.plan.outline.empty()) return room.plan.outline;
    return {{0, 0, 0}, {room.width, 0, 0}, {room.width, room.length, 0}, {0, room.length, 0}};
}

}  // namespace boxroom
