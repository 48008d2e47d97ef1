#include "survey/standing_places.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "placement/spots.hpp"
#include "solvers/floor_outline.hpp"
#include "solvers/surface_areas.hpp"

namespace boxroom {
namespace {

constexpr double slack = 0.10;  // [m], as far off its place as a box still stands there
constexpr double middle_share = 0.125;

/// Of an outline that goes round from x towards y: the room lies inside the turn.
bool turns_inward(const std::vector<Point>& corners, std::size_t n) {
    const std::size_t count = corners.size();
    const Point &a = corners[(n + count - 1) % count], &b = corners[n],
                &c = corners[(n + 1) % count];
    return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) > 0;
}

BoxStanding standing_between(const Scenario& scenario, double share_x, double share_y,
                             double volume) {
    // The way it looks depends on where it stands, and how far off the wall that is on the way.
    const Room& room = scenario.acoustics.room;
    const Point about{share_x * room.width, share_y * room.length, 0};
    const Facing facing = facing_at(scenario, about);
    const Sides sides = turned(enclosure(volume, scenario.design.enclosure), facing);
    return standing_at(scenario, between_walls(share_x, share_y, sides, scenario), facing, volume);
}

}  // namespace

bool stands_in_corner(const Scenario& scenario, const BoxStanding& box) {
    const auto corners = floor_outline(scenario.acoustics.room);
    const double gap = scenario.wanted.spots.gap + slack;
    for (std::size_t n = 0; n < corners.size(); ++n)
        if (turns_inward(corners, n) &&
            std::abs(box.footprint.x - corners[n].x) <= box.sides.width / 2 + gap &&
            std::abs(box.footprint.y - corners[n].y) <= box.sides.depth / 2 + gap)
            return true;
    return false;
}

int wall_of_middle(const Scenario& scenario, const BoxStanding& box) {
    const Room& room = scenario.acoustics.room;
    if (!room.is_rectangle()) return -1;
    const double gap = scenario.wanted.spots.gap + slack;
    const Point& at = box.footprint;
    const bool middle_x = std::abs(at.x / room.width - 0.5) <= middle_share;
    const bool middle_y = std::abs(at.y / room.length - 0.5) <= middle_share;
    const double x = box.sides.width / 2 + gap, y = box.sides.depth / 2 + gap;
    if (middle_y && at.x <= x) return left_wall;
    if (middle_y && room.width - at.x <= x) return right_wall;
    if (middle_x && at.y <= y) return front_wall;
    if (middle_x && room.length - at.y <= y) return back_wall;
    return -1;
}

bool have_opposite_middles(const Scenario& scenario, const std::vector<BoxStanding>& boxes) {
    std::array<bool, 4> taken{};
    for (const BoxStanding& box : boxes)
        if (const int wall = wall_of_middle(scenario, box); wall >= 0) taken[wall] = true;
    return (taken[left_wall] && taken[right_wall]) || (taken[front_wall] && taken[back_wall]);
}

std::array<BoxStanding, 4> wall_middles(const Scenario& scenario, double volume) {
    return {standing_between(scenario, 0, 0.5, volume), standing_between(scenario, 1, 0.5, volume),
            standing_between(scenario, 0.5, 0, volume), standing_between(scenario, 0.5, 1, volume)};
}

std::array<BoxStanding, 4> room_corners(const Scenario& scenario, double volume) {
    return {standing_between(scenario, 0, 0, volume), standing_between(scenario, 1, 0, volume),
            standing_between(scenario, 0, 1, volume), standing_between(scenario, 1, 1, volume)};
}

double mean_absorption(const Room& room, const Air& air, double frequency) {
    const double omega = 2 * std::numbers::pi * frequency;
    double sum = 0, area = 0;
    for (const WallPart& part : surfaces_by_area(room)) {
        sum += part.area * random_incidence_absorption(part.wall.admittance(omega, air));
        area += part.area;
    }
    return sum / area;
}

}  // namespace boxroom
