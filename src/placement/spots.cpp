#include "placement/spots.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/units.hpp"

namespace boxroom {

Facing resolved_facing(Facing wanted, const Point& at, const Room& room) {
    if (wanted != Facing::inward) return wanted;
    // Away from the nearest wall; in a corner away from the wall behind it, left and right last.
    const double to_front = at.y, to_back = room.length - at.y;
    const double to_left = at.x, to_right = room.width - at.x;
    // In a corner two are equal but for rounding, which must not decide.
    const double nearest = std::min({to_front, to_back, to_left, to_right}) + 1e-9;
    return to_front <= nearest  ? Facing::back
           : to_back <= nearest ? Facing::front
           : to_left <= nearest ? Facing::right
                                : Facing::left;
}

Facing facing_at(const Scenario& scenario, const Point& footprint) {
    return resolved_facing(scenario.design.enclosure.facing, footprint, scenario.acoustics.room);
}

Point between_walls(double share_x, double share_y, const Sides& standing,
                    const Scenario& scenario) {
    const Room& room = scenario.acoustics.room;
    const double left = scenario.wanted.spots.gap + standing.width / 2,
                 front = scenario.wanted.spots.gap + standing.depth / 2;
    return {left + share_x * (room.width - 2 * left), front + share_y * (room.length - 2 * front),
            0};
}

SpotGrid::SpotGrid(const Scenario& scenario, const Sides& smallest) : scenario_(scenario) {
    const Room& room = scenario.acoustics.room;
    const double gap = scenario.wanted.spots.gap;
    // Facing inward the box may stand either way round: the grid must hold its narrow side.
    const bool either = scenario.design.enclosure.facing == Facing::inward;
    const Sides lies = turned(smallest, scenario.design.enclosure.facing);
    const double narrow = std::min(smallest.width, smallest.depth);
    const double free_x = room.width - 2 * gap - (either ? narrow : lies.width);
    const double free_y = room.length - 2 * gap - (either ? narrow : lies.depth);
    if (free_x < 0 || free_y < 0)
        throw Error("[spots]", "the smallest box does not fit between the walls",
                    "choose smaller boxes or a smaller [spots] gap");
    nx_ = static_cast<int>(std::ceil(free_x / scenario.wanted.spots.step - 1e-9)) + 1;
    ny_ = static_cast<int>(std::ceil(free_y / scenario.wanted.spots.step - 1e-9)) + 1;
    facing_.resize(size());
    for (int spot = 0; spot < size(); ++spot) {
        const double mean = (smallest.width + smallest.depth) / 2;  // not yet turned
        facing_[spot] = facing_at(scenario, footprint(spot, {mean, mean, smallest.height}));
    }
}

Point SpotGrid::footprint(int spot, const Sides& as_built) const {
    const double share_x = nx_ > 1 ? static_cast<double>(spot % nx_) / (nx_ - 1) : 0.5;
    const double share_y = ny_ > 1 ? static_cast<double>(spot / nx_) / (ny_ - 1) : 0.5;
    return between_walls(share_x, share_y, turned(as_built, facing_[spot]), scenario_);
}

Point SpotGrid::centre(int spot, const Sides& box) const {
    const Point at = footprint(spot, box);
    return acoustic_centre(at.x, at.y, turned(box, facing_[spot]), scenario_.design.enclosure.feet,
                           facing_[spot]);
}

FloorMap blank_spot_map(const Scenario& scenario, const SpotGrid& grid, const Sides& box) {
    FloorMap map;
    map.room_width = scenario.acoustics.room.width;
    map.room_length = scenario.acoustics.room.length;
    map.nx = grid.nx();
    map.ny = grid.ny();
    const Point first = grid.footprint(0, box), last = grid.footprint(grid.size() - 1, box);
    map.x0 = first.x;
    map.y0 = first.y;
    map.dx = map.nx > 1 ? (last.x - first.x) / (map.nx - 1) : scenario.wanted.spots.step;
    map.dy = map.ny > 1 ? (last.y - first.y) / (map.ny - 1) : scenario.wanted.spots.step;
    map.value.assign(grid.size(), 0.0);
    map.valid.assign(grid.size(), 0);
    map.seats = scenario.seats;
    map.keep_outs = scenario.wanted.keep_outs;
    map.low_is_good = true;
    return map;
}

namespace {

/// How far the line from a to b passes from a rectangle; 0 where it meets it. The distance to a
/// convex body is a convex function along a line: found by ternary search, to 0.1 mm.
double distance_of_line(const Point& a, const Point& b, double x0, double y0, double x1,
                        double y1) {
    const auto off = [&](double share) {
        const double x = a.x + share * (b.x - a.x), y = a.y + share * (b.y - a.y);
        return std::hypot(std::max({x0 - x, x - x1, 0.0}), std::max({y0 - y, y - y1, 0.0}));
    };
    double low = 0, high = 1;
    while ((high - low) * std::hypot(b.x - a.x, b.y - a.y) > 1e-4) {
        const double left = low + (high - low) / 3, right = high - (high - low) / 3;
        (off(left) <= off(right) ? high : low) = off(left) <= off(right) ? right : left;
    }
    return off((low + high) / 2);
}

/// Whether a box stands in a straight way from a door to a seat.
bool in_a_way(const Scenario& scenario, double x0, double y0, double x1, double y1) {
    const double way = scenario.wanted.spots.way;
    if (!(way > 0)) return false;
    for (const Point& door : scenario.wanted.doors)
        for (const Seat& seat : scenario.seats)
            if (distance_of_line(door, seat.at, x0, y0, x1, y1) < way / 2 - 1e-9) return true;
    return false;
}

}  // namespace

bool box_fits(const Scenario& scenario, const Point& at, const Sides& box) {
    const Room& room = scenario.acoustics.room;
    const double top = box.height + scenario.design.enclosure.feet;
    if (top > std::min(room.height, scenario.wanted.spots.tallest)) return false;
    if (box.width + 2 * scenario.wanted.spots.gap > room.width + 1e-9 ||
        box.depth + 2 * scenario.wanted.spots.gap > room.length + 1e-9)
        return false;
    const double x0 = at.x - box.width / 2, x1 = at.x + box.width / 2;
    const double y0 = at.y - box.depth / 2, y1 = at.y + box.depth / 2;
    if (!room.plan.free_floor(x0, y0, x1, y1, top, scenario.wanted.spots.gap)) return false;
    for (const KeepOut& k : scenario.wanted.keep_outs)
        if (x0 < k.x1 - 1e-9 && x1 > k.x0 + 1e-9 && y0 < k.y1 - 1e-9 && y1 > k.y0 + 1e-9)
            return false;
    if (in_a_way(scenario, x0, y0, x1, y1)) return false;
    for (const Seat& seat : scenario.seats) {
        const double dx = std::max({x0 - seat.at.x, seat.at.x - x1, 0.0});
        const double dy = std::max({y0 - seat.at.y, seat.at.y - y1, 0.0});
        if (std::hypot(dx, dy) < scenario.wanted.spots.seat_clearance) return false;
    }
    return true;
}

}  // namespace boxroom
