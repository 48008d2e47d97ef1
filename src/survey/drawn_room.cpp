#include "survey/drawn_room.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "solvers/room.hpp"
#include "survey/philox.hpp"

namespace boxroom {
namespace {

constexpr int tries_of_seats = 100, tries_of_rooms = 50;
constexpr double elbow = 0.2;  // [m], from a head to a wall

/// Each quantity has words of its own, so that a further one changes none of the others. Never
/// renumbered.
enum class Drawn : std::uint32_t {
    width = 0,
    length = 1,
    height = 2,
    contents = 3,
    l_shaped = 4,
    corner = 5,
    notch_width = 6,
    notch_length = 7,
    house = 8,
    driver = 9,
    fs = 10,
    qts = 11,
    vas = 12,
    window_wall = 13,
    window_area = 14,
    door_wall = 15,
    door_area = 16,
    surface = 32,             // and the five that follow
    surface_absorption = 40,  // likewise
    rows = 64,
    per_row = 65,
    spacing = 66,
    from_back = 67,
    row_distance = 68,
    seat_height = 69,
    rise = 70,
    aside = 71
};

class Draw {
  public:
    Draw(const Survey& survey, long long number, int attempt)
        : seed_(survey.seed),
          row_(static_cast<std::uint64_t>(number)),
          attempt_(static_cast<std::uint32_t>(attempt)) {}
    double probability(Drawn what, std::uint32_t further = 0) const {
        return philox_uniform(
            {static_cast<std::uint32_t>(row_), static_cast<std::uint32_t>(row_ >> 32), attempt_,
             static_cast<std::uint32_t>(what) + further},
            seed_);
    }
    double number(Drawn what, const Distribution& of) const {
        return of.quantile(probability(what));
    }
    std::size_t choice(Drawn what, const std::vector<double>& weights) const {
        return choice_at(weights, probability(what));
    }

  private:
    std::uint64_t seed_, row_;
    std::uint32_t attempt_;
};

double rounded(double value, double step) {
    return std::round(value / step) * step;
}

double centimetres(double value) {
    return std::round(100 * value) / 100;
}

template <typename Kind>
std::vector<double> weights_of(const std::vector<Kind>& kinds) {
    std::vector<double> weights;
    for (const Kind& kind : kinds) weights.push_back(kind.weight);
    return weights;
}

/// The rectangle's corners with one of them cut out: 0 front left, then going round.
std::vector<Point> l_outline(const DrawnRoom& room, std::size_t corner, double x, double y) {
    const double w = room.width, l = room.length;
    std::vector<Point> rectangle{{0, 0, 0}, {w, 0, 0}, {w, l, 0}, {0, l, 0}};
    const std::vector<Point> cut[] = {{{0, y, 0}, {x, y, 0}, {x, 0, 0}},
                                      {{w - x, 0, 0}, {w - x, y, 0}, {w, y, 0}},
                                      {{w, l - y, 0}, {w - x, l - y, 0}, {w - x, l, 0}},
                                      {{x, l, 0}, {x, l - y, 0}, {0, l - y, 0}}};
    std::vector<Point> outline;
    for (std::size_t n = 0; n < rectangle.size(); ++n)
        if (n == corner)
            outline.insert(outline.end(), cut[n].begin(), cut[n].end());
        else
            outline.push_back(rectangle[n]);
    for (Point& p : outline) p.x = centimetres(p.x), p.y = centimetres(p.y);
    return outline;
}

void draw_shape(const Survey& survey, const Draw& draw, DrawnRoom& room) {
    const double r = survey.width_with_length;
    const double p = draw.probability(Drawn::width);
    const double along = r * normal_quantile(p) +
                         std::sqrt(1 - r * r) * normal_quantile(draw.probability(Drawn::length));
    room.width = centimetres(survey.width.quantile(p));
    room.length = centimetres(survey.length.quantile(normal_probability(along)));
    room.height = centimetres(draw.number(Drawn::height, survey.height));
    if (draw.probability(Drawn::l_shaped) >= survey.l_shaped) return;
    constexpr double left = 1;  // [m], of each wall beside the missing corner
    const double x = draw.number(Drawn::notch_width, survey.notch_width) * room.width;
    const double y = draw.number(Drawn::notch_length, survey.notch_length) * room.length;
    if (room.width < 1.5 * left || room.length < 1.5 * left) return;
    room.outline = l_outline(room, draw.choice(Drawn::corner, {1, 1, 1, 1}),
                             centimetres(std::min(x, room.width - left)),
                             centimetres(std::min(y, room.length - left)));
}

std::string surface_value(const SurfaceKind& kind, const Draw& draw, std::uint32_t n) {
    if (!kind.construction.names.empty())
        return '"' +
               kind.construction.names[choice_at(kind.construction.weights,
                                                 draw.probability(Drawn::surface, n))] +
               '"';
    return fmt::format("{{ absorption = {:.4f} }}",
                       kind.absorption.quantile(draw.probability(Drawn::surface_absorption, n)));
}

/// A house is built in one way: its four walls are of one draw unless they are told apart.
void draw_house(const Survey& survey, const Draw& draw, DrawnRoom& room) {
    room.house = draw.choice(Drawn::house, weights_of(survey.houses));
    const HouseKind& house = survey.houses[room.house];
    for (std::uint32_t n = left_wall; n <= back_wall; ++n)
        room.surfaces.push_back(house.wall[n] ? surface_value(*house.wall[n], draw, n)
                                              : surface_value(house.walls, draw, left_wall));
    room.surfaces.push_back(surface_value(house.floor, draw, floor_wall));
    room.surfaces.push_back(surface_value(house.ceiling, draw, ceiling_wall));
    const auto add = [&](const std::optional<PartKind>& part, Drawn wall, Drawn area) {
        if (!part) return;
        const auto n = static_cast<int>(draw.choice(wall, {1, 1, 1, 1}));
        // Two fit into one wall; of an L into the longest edge of a side, which is half of it or
        // more.
        const double side = n <= right_wall ? room.length : room.width;
        const double most = side * room.height / (room.outline.empty() ? 3 : 6);
        room.parts.push_back(
            {part->construction, n,
             std::min(rounded(draw.number(area, part->area), 0.01), std::floor(100 * most) / 100)});
    };
    add(house.window, Drawn::window_wall, Drawn::window_area);
    add(house.door, Drawn::door_wall, Drawn::door_area);
}

void draw_driver(const Survey& survey, const Draw& draw, DrawnRoom& room) {
    room.driver = draw.choice(Drawn::driver, weights_of(survey.drivers));
    const DriverKind& driver = survey.drivers[room.driver];
    room.fs = std::max(1.0, rounded(draw.number(Drawn::fs, driver.fs), 0.1));
    room.qts = rounded(draw.number(Drawn::qts, driver.qts), 0.001);
    room.vas = rounded(draw.number(Drawn::vas, driver.vas), 1e-4);
}

/// The stretch of floor from left to right at this distance from the front.
std::pair<double, double> across(const DrawnRoom& room, double y) {
    double left = 0, right = room.width;
    for (std::size_t n = 0; n < room.outline.size(); ++n) {
        const Point &a = room.outline[n], &b = room.outline[(n + 1) % room.outline.size()];
        if (a.x != b.x || y < std::min(a.y, b.y) || y > std::max(a.y, b.y)) continue;
        if (a.y < b.y)
            right = std::min(right, a.x);
        else
            left = std::max(left, a.x);
    }
    return {left, right};
}

bool clear_of_walls(const DrawnRoom& room, const Point& seat) {
    RoomPlan plan;
    plan.outline = room.outline;
    for (const double x : {seat.x - elbow, seat.x + elbow})
        for (const double y : {seat.y - elbow, seat.y + elbow})
            if (x < 0 || y < 0 || x > room.width || y > room.length ||
                (!plan.outline.empty() && !plan.covers(x, y)))
                return false;
    return seat.z + elbow <= room.height;
}

/// Sofas across the room, the last row at the back; false where a seat is no place to sit.
bool draw_seats(const SeatRows& rows, const Draw& draw, DrawnRoom& room) {
    room.rows = static_cast<int>(draw.number(Drawn::rows, rows.rows));
    room.per_row = static_cast<int>(draw.number(Drawn::per_row, rows.per_row));
    const double spacing = draw.number(Drawn::spacing, rows.spacing);
    const double last = room.length - draw.number(Drawn::from_back, rows.from_back);
    const double distance = draw.number(Drawn::row_distance, rows.row_distance);
    const double height = draw.number(Drawn::seat_height, rows.height);
    const double rise = draw.number(Drawn::rise, rows.rise);
    const double aside = draw.number(Drawn::aside, rows.aside);
    room.seats.clear();
    for (int row = 0; row < room.rows; ++row) {
        const double y = last - row * distance;
        const auto [left, right] = across(room, y);
        for (int n = 0; n < room.per_row; ++n) {
            const double x = (left + right) / 2 + aside + (n - (room.per_row - 1) / 2.0) * spacing;
            room.seats.push_back({centimetres(x), centimetres(y),
                                  centimetres(height + rise * (room.rows - 1 - row))});
        }
    }
    return std::ranges::all_of(room.seats,
                               [&](const Point& seat) { return clear_of_walls(room, seat); });
}

}  // namespace

DrawnRoom draw_room(const Survey& survey, long long number) {
    for (int whole = 0; whole < tries_of_rooms; ++whole) {
        DrawnRoom room;
        room.number = number;
        const Draw draw(survey, number, whole);
        draw_shape(survey, draw, room);
        if (!survey.contents.names.empty()) {
            room.contents_kind = draw.choice(Drawn::contents, survey.contents.weights);
            room.contents = survey.contents.names[room.contents_kind];
        }
        draw_house(survey, draw, room);
        draw_driver(survey, draw, room);
        for (int n = 0; n < tries_of_seats; ++n) {
            room.redrawn = whole * tries_of_seats + n;
            if (draw_seats(survey.seats, Draw(survey, number, room.redrawn), room)) return room;
        }
    }
    throw Error(survey.name + ':' + std::to_string(survey.seats.line),
                "[seats] lie outside room " + std::to_string(number) + ", however it is drawn",
                "put them nearer to the back wall and to each other, or let rooms be larger");
}

}  // namespace boxroom
