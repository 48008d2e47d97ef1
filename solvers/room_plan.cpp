#include "solvers/room_plan.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {
namespace {

constexpr double hairs_breadth = 1e-6;  // [m]

double cross(const Point& a, const Point& b, const Point& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool on_edge(const Point& a, const Point& b, double x, double y) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (std::abs(cross(a, b, {x, y, 0})) > hairs_breadth * length) return false;
    const double along = ((x - a.x) * (b.x - a.x) + (y - a.y) * (b.y - a.y)) / length;
    return along >= -hairs_breadth && along <= length + hairs_breadth;
}

bool cross_each_other(const Point& a, const Point& b, const Point& c, const Point& d) {
    if (on_edge(a, b, c.x, c.y) || on_edge(a, b, d.x, d.y) || on_edge(c, d, a.x, a.y) ||
        on_edge(c, d, b.x, b.y))
        return true;
    return (cross(a, b, c) > 0) != (cross(a, b, d) > 0) &&
           (cross(c, d, a) > 0) != (cross(c, d, b) > 0);
}

}  // namespace

double Opening::area() const {
    const double x = to.x - from.x, y = to.y - from.y, z = to.z - from.z;
    return axis() == 0 ? y * z : axis() == 1 ? x * z : x * y;
}

bool RoomPlan::covers(double x, double y) const {
    bool inside = outline.empty();
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (on_edge(a, b, x, y)) return true;
        if ((a.y > y) != (b.y > y) && x < a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
            inside = !inside;
    }
    return inside;
}

bool RoomPlan::free_floor(double x0, double y0, double x1, double y1, double top,
                          double gap) const {
    for (const Block& b : blocks)
        if (b.from.z < top && x0 < b.to.x - hairs_breadth && x1 > b.from.x + hairs_breadth &&
            y0 < b.to.y - hairs_breadth && y1 > b.from.y + hairs_breadth)
            return false;
    // A hair smaller, so that standing just that far from a wall is allowed.
    const double e = 1e-4 - gap;
    const Point corner[4] = {
        {x0 + e, y0 + e, 0}, {x1 - e, y0 + e, 0}, {x1 - e, y1 - e, 0}, {x0 + e, y1 - e, 0}};
    for (const Point& c : corner)
        if (!covers(c.x, c.y)) return false;
    for (std::size_t i = 0; i < outline.size(); ++i)
        for (int k = 0; k < 4; ++k)
            if (cross_each_other(outline[i], outline[(i + 1) % outline.size()], corner[k],
                                 corner[(k + 1) % 4]))
                return false;
    return true;
}

const Block* RoomPlan::block_at(const Point& p) const {
    for (const Block& b : blocks)
        if (p.x > b.from.x + hairs_breadth && p.y > b.from.y + hairs_breadth &&
            p.z > b.from.z + hairs_breadth && p.x < b.to.x - hairs_breadth &&
            p.y < b.to.y - hairs_breadth && p.z < b.to.z - hairs_breadth)
            return &b;
    return nullptr;
}

Wall open_air(double area, const Air& air) {
    constexpr double pi = std::numbers::pi;
    const double radius = std::sqrt(area / pi);
    // The small resistance beside the mass keeps the branch admissible and does nothing else.
    return {{{1e-3, 8 * air.density * radius / (3 * pi), 0},
             {128 / (9 * pi * pi) * air.impedance(), 0, 0}}};
}

double signed_area(const std::vector<Point>& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return twice / 2;
}

std::pair<int, int> crossing_edges(const std::vector<Point>& outline) {
    const int count = static_cast<int>(outline.size());
    for (int i = 0; i < count; ++i)
        for (int k = i + 1; k < count; ++k) {
            const Point &a = outline[i], &b = outline[(i + 1) % count];
            const Point &c = outline[k], &d = outline[(k + 1) % count];
            const bool follows = k == i + 1, leads = (k + 1) % count == i;
            if (follows && !leads ? on_edge(a, b, d.x, d.y) || on_edge(c, d, a.x, a.y)
                : leads           ? on_edge(a, b, c.x, c.y) || on_edge(c, d, b.x, b.y)
                                  : cross_each_other(a, b, c, d))
                return {i, k};
        }
    return {-1, -1};
}

void keep_joined(RoomPlan& plan) {
    std::vector<Space> joined;
    for (std::size_t n = 0; n < plan.spaces.size(); ++n) {
        bool led_to = false;
        for (Opening& opening : plan.openings)
            if (opening.space == static_cast<int>(n))
                led_to = true, opening.space = static_cast<int>(joined.size());
        if (led_to) joined.push_back(std::move(plan.spaces[n]));
    }
    plan.spaces = std::move(joined);
}

}  // namespace boxroom
