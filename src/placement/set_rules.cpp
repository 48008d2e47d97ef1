#include "placement/set_rules.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

constexpr double cell_size = 0.3;  // nearer than this two sets are the same advice [m]
constexpr double same_place = 1e-6;

bool close(const Point& a, const Point& b) {
    return std::abs(a.x - b.x) < same_place && std::abs(a.y - b.y) < same_place &&
           std::abs(a.z - b.z) < same_place;
}

Point mirrored(const Room& room, Point p, bool along_x) {
    (along_x ? p.x : p.y) = along_x ? room.width - p.x : room.length - p.y;
    return p;
}

/// For each spot the one its mirror image falls on; empty if the room is not symmetric.
std::vector<int> mirror(const Scenario& scenario, const SpotGrid& grid, const Sides& box,
                        std::span<const int> spots, bool along_x) {
    const Room& room = scenario.acoustics.room;
    if (!room.is_rectangle()) return {};
    if (room.walls[along_x ? left_wall : front_wall] !=
        room.walls[along_x ? right_wall : back_wall])
        return {};
    for (const Seat& seat : scenario.seats) {
        const Point image = mirrored(room, seat.at, along_x);
        if (std::ranges::none_of(scenario.seats, [&](const Seat& other) {
                return close(other.at, image) && other.weight == seat.weight;
            }))
            return {};
    }
    std::vector<int> number(grid.size(), -1), image;
    for (std::size_t n = 0; n < spots.size(); ++n) number[spots[n]] = static_cast<int>(n);
    for (const int spot : spots) {
        const int column = spot % grid.nx(), row = spot / grid.nx();
        const int other = along_x ? row * grid.nx() + grid.nx() - 1 - column
                                  : (grid.ny() - 1 - row) * grid.nx() + column;
        if (number[other] < 0 ||
            !close(grid.centre(other, box), mirrored(room, grid.centre(spot, box), along_x)))
            return {};
        image.push_back(number[other]);
    }
    return image;
}

}  // namespace

SetRules rules_of_boxes(const Scenario& scenario, const std::vector<Standing>& boxes) {
    const std::size_t count = boxes.size();
    SetRules rules;
    rules.clash.assign(count * count, 0);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j < count; ++j) {
            const auto& [p, a] = boxes[i];
            const auto& [q, b] = boxes[j];
            rules.clash[i * count + j] =
                std::abs(p.x - q.x) < (a.width + b.width) / 2 - same_place &&
                std::abs(p.y - q.y) < (a.depth + b.depth) / 2 - same_place;
        }
    const int across = static_cast<int>(std::ceil(scenario.acoustics.room.width / cell_size));
    for (const Standing& box : boxes)
        rules.cell.push_back(static_cast<int>(box.at.y / cell_size) * across +
                             static_cast<int>(box.at.x / cell_size));
    rules.first.assign(count, 1);
    return rules;
}

SetRules make_set_rules(const Scenario& scenario, const SpotGrid& grid, const Sides& box,
                        std::span<const int> spots) {
    const std::size_t count = spots.size();
    std::vector<Standing> boxes;
    for (const int spot : spots)
        boxes.push_back({grid.footprint(spot, box), turned(box, grid.facing(spot))});
    SetRules rules = rules_of_boxes(scenario, boxes);

    // A mirror image of every set begins with a spot that is the lowest of its own images: the set
    // that holds the lowest number any image of the set holds.
    const auto x = mirror(scenario, grid, box, spots, true);
    const auto y = mirror(scenario, grid, box, spots, false);
    for (std::size_t n = 0; n < count; ++n) {
        const int spot = static_cast<int>(n);
        if ((!x.empty() && x[n] < spot) || (!y.empty() && y[n] < spot) ||
            (!x.empty() && !y.empty() && y[x[n]] < spot))
            rules.first[n] = 0;
    }
    rules.symmetric = !x.empty() || !y.empty();
    return rules;
}

}  // namespace boxroom
