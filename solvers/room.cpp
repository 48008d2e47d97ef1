#include "solvers/room.hpp"

namespace boxroom {

double Room::volume() const {
    double air = (plan.outline.empty() ? width * length : outline_area(plan.outline)) * height;
    for (const Block& b : plan.blocks)
        air -= (b.to.x - b.from.x) * (b.to.y - b.from.y) * (b.to.z - b.from.z);
    return air;
}

std::vector<NamedWall> Room::surfaces() const {
    std::vector<NamedWall> all = plan.edges;
    for (int w = plan.edges.empty() ? 0 : floor_wall; w <= ceiling_wall; ++w)
        all.push_back({wall_names[w], walls[w], wall_description[w]});
    for (const Block& block : plan.blocks) all.push_back(block.surface);
    for (const Space& space : plan.spaces)
        for (const NamedWall& wall : space.walls)
            all.push_back({space.name + ", " + wall.name, wall.wall, wall.description});
    return all;
}

bool in_air(const Room& room, const Point& p) {
    constexpr double step = 1e-3;
    if (!room.contains(p)) return false;
    // Behind a block that stands against a wall the wall's face is no place, though it is a rim.
    for (const double x : {-step, step})
        for (const double y : {-step, step})
            if (room.contains({p.x + x, p.y + y, p.z})) return true;
    return false;
}

}  // namespace boxroom
