#include "solvers/stretched_room.hpp"

namespace boxroom {

Stretch stretch_between(const Room& from, const Room& to) {
    return {to.width / from.width, to.length / from.length, to.height / from.height};
}

Point stretched(const Point& p, const Stretch& by) {
    return {p.x * by[0], p.y * by[1], p.z * by[2]};
}

Room stretched(Room room, const Stretch& by) {
    room.width *= by[0], room.length *= by[1], room.height *= by[2];
    for (Point& corner : room.plan.outline) corner = stretched(corner, by);
    const auto move = [&by](auto& all) {
        for (auto& one : all) one.from = stretched(one.from, by), one.to = stretched(one.to, by);
    };
    move(room.plan.blocks);
    move(room.plan.spaces);
    move(room.plan.openings);
    return room;
}

}  // namespace boxroom
