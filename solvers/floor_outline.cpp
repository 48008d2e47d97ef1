#include "solvers/floor_outline.hpp"

#include <cmath>

namespace boxroom {

std::vector<Point> floor_outline(const Room& room) {
    if (!room.plan.outline.empty()) return room.plan.outline;
    return {{0, 0, 0}, {room.width, 0, 0}, {room.width, room.length, 0}, {0, room.length, 0}};
}

Point outwards(const std::vector<Point>& outline, std::size_t edge) {
    const Point &from = outline[edge], &to = outline[(edge + 1) % outline.size()];
    const double way = signed_area(outline) > 0 ? 1 : -1;
    return {way * (to.y - from.y), way * (from.x - to.x), 0};
}

double edge_length(const std::vector<Point>& outline, std::size_t edge) {
    const Point &from = outline[edge], &to = outline[(edge + 1) % outline.size()];
    return std::hypot(to.x - from.x, to.y - from.y);
}

WallIndex wall_of_edge(const std::vector<Point>& outline, std::size_t edge) {
    const Point way = outwards(outline, edge);
    if (std::abs(way.x) > std::abs(way.y)) return way.x > 0 ? right_wall : left_wall;
    return way.y > 0 ? back_wall : front_wall;
}

}  // namespace boxroom
