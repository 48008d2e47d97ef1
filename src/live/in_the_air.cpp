#include "live/in_the_air.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "placement/spots.hpp"

namespace boxroom {
namespace {

/// From ring to ring around `from`, then straight back as far as it stays free.
template <typename Free>
Point nearest_free(const Point& from, double furthest, const Free& free) {
    if (free(from)) return from;
    constexpr double step = 0.02;  // [m]
    constexpr int ways = 32, halvings = 30;
    for (double away = step; away <= furthest; away += step)
        for (int way = 0; way < ways; ++way) {
            const double angle = 2 * std::numbers::pi * way / ways;
            const auto at = [&](double r) {
                return Point{from.x + r * std::cos(angle), from.y + r * std::sin(angle), from.z};
            };
            if (!free(at(away))) continue;
            double blocked = 0, open = away;
            for (int n = 0; n < halvings; ++n) {
                const double middle = (blocked + open) / 2;
                (free(at(middle)) ? open : blocked) = middle;
            }
            return at(open);
        }
    return from;
}

}  // namespace

Point in_the_air(const Point& place, const Room& room) {
    const Point kept{std::clamp(place.x, 0.0, room.width), std::clamp(place.y, 0.0, room.length),
                     std::clamp(place.z, 0.0, room.height)};
    if (room.is_rectangle()) return kept;
    return nearest_free(kept, std::hypot(room.width, room.length),
                        [&room](const Point& p) { return in_air(room, p); });
}

Point free_of_walls(const Point& footprint, const Sides& standing, const Scenario& scenario) {
    const Room& room = scenario.acoustics.room;
    if (room.is_rectangle()) return footprint;
    const double gap = scenario.wanted.spots.gap;
    const double w = standing.width / 2, d = standing.depth / 2,
                 top = standing.height + scenario.design.enclosure.feet;
    const Point first = between_walls(0, 0, standing, scenario),
                last = between_walls(1, 1, standing, scenario);
    constexpr double hair = 1e-9;
    return nearest_free(footprint, std::hypot(room.width, room.length), [&](const Point& p) {
        return p.x > first.x - hair && p.x < last.x + hair && p.y > first.y - hair &&
               p.y < last.y + hair &&
               room.plan.free_floor(p.x - w, p.y - d, p.x + w, p.y + d, top, gap);
    });
}

}  // namespace boxroom
