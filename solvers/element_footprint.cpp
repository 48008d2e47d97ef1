#include "solvers/element_footprint.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "base/error.hpp"

namespace boxroom::element_parts {
namespace {

constexpr double one_line = 1e-4;  ///< what is nearer than this lies on one line [m]
constexpr std::size_t most_cells = 10000;

using Triple = std::array<double, 3>;
Triple triple(const Point& p) {
    return {p.x, p.y, p.z};
}

/// The lines that must be, and those of them that carry edges round which air turns.
struct Wanted {
    std::vector<double> line;
    std::vector<EdgeOnLine> edge;
    void add(const Point& from, const Point& to, int axis) {
        line.push_back(triple(from)[axis]);
        line.push_back(triple(to)[axis]);
    }
};

struct Hole {
    Point from, to;
    int through = 0;  ///< the axis across its plane
};

/// Through walls, to spaces and to the open air.
std::vector<Hole> holes(const Room& room) {
    std::vector<Hole> all;
    for (const Passage& p : passages(room)) all.push_back({p.from, p.to, p.axis});
    for (const Opening& o : room.plan.openings)
        if (o.space < 0) all.push_back({o.from, o.to, o.axis()});
    return all;
}

/// Levels at which a hole has edges. A door stands on the floor: no air turns round its threshold.
std::vector<double> edge_levels(const Hole& hole, double height) {
    std::vector<double> all;
    for (const double at : {hole.from.z, hole.to.z})
        if (at > one_line && at < height - one_line) all.push_back(at);
    return all;
}

/// Whether its level edges are longer than its upright ones.
bool is_mostly_level(const Hole& hole, double height) {
    const int along = 1 - hole.through % 2;
    const double width = std::abs(triple(hole.to)[along] - triple(hole.from)[along]);
    return static_cast<double>(edge_levels(hole, height).size()) * width >
           2 * std::abs(hole.to.z - hole.from.z);
}

Wanted wanted_lines(const Room& room, int axis) {
    const RoomPlan& plan = room.plan;
    Wanted wanted;
    wanted.add({0, 0, 0}, {room.width, room.length, room.height}, axis);
    if (axis < 2)
        for (const Point& corner : plan.outline) wanted.line.push_back(triple(corner)[axis]);
    for (const Block& b : plan.blocks) wanted.add(b.from, b.to, axis);
    for (const Space& s : plan.spaces) wanted.add(s.from, s.to, axis);
    for (const Hole& hole : holes(room)) {
        wanted.add(hole.from, hole.to, axis);
        const auto [low, high] =
            std::minmax({triple(hole.from)[1 - axis % 2], triple(hole.to)[1 - axis % 2]});
        const std::vector<double> at =
            axis == 2 ? edge_levels(hole, room.height)
                      : std::vector{triple(hole.from)[axis], triple(hole.to)[axis]};
        for (const double line : at) wanted.edge.push_back({line, low, high});
    }
    return wanted;
}

/// `across_edges`: degree of the layers along edges.
AxisLines divide(Wanted wanted, const MeshOptions& options, int across_edges) {
    std::sort(wanted.line.begin(), wanted.line.end());
    AxisLines lines;
    lines.edge = wanted.edge;
    const double longest = longest_element(options), layer = options.edge_layer;
    const auto has_edge = [&](double x) {
        return std::ranges::any_of(
            wanted.edge, [&](const EdgeOnLine& edge) { return std::abs(edge.at - x) < one_line; });
    };
    const auto add = [&](double to, double beside, int degree) {
        lines.at.push_back(to);
        lines.beside.push_back(beside);
        lines.degree.push_back(degree);
    };
    const auto upto = [&](double to, int parts, double beside) {
        const double from = lines.at.back(), length = (to - from) / parts;
        for (int n = 1; n < parts; ++n)
            add(from + n * length, from + n * length, degree_for(length, options));
        add(to, beside, degree_for(length, options));
    };
    const int across = across_edges + options.more_degrees;
    lines.at.push_back(wanted.line.front());
    lines.beside = lines.at;
    for (const double next : wanted.line) {
        const double from = lines.at.back(), length = next - from;
        if (length < one_line) continue;
        const bool below = layer > 0 && has_edge(from) && length > 3 * layer;
        const bool above = layer > 0 && has_edge(next) && length > 3 * layer;
        const double open = length - (below + above) * layer;
        if (below) add(from + layer, from, across);
        upto(above ? next - layer : next, static_cast<int>(std::ceil(open / longest - 1e-6)), next);
        if (above) add(next, next, across);
    }
    return lines;
}

bool follows_axes(const RoomPlan& plan) {
    for (std::size_t i = 0; i < plan.outline.size(); ++i) {
        const Point &a = plan.outline[i], &b = plan.outline[(i + 1) % plan.outline.size()];
        if (std::abs(a.x - b.x) > one_line && std::abs(a.y - b.y) > one_line) return false;
    }
    return true;
}

/// Where a line is at the crossing with another that stands at `along`, or beside a line there: a
/// layer's, which is needed beside edges alone, runs into the edge's line elsewhere.
double line_at(const AxisLines& lines, std::size_t n, double along) {
    const auto needed = [&](const EdgeOnLine& edge) {
        return std::abs(edge.at - lines.beside[n]) < one_line && along > edge.low - one_line &&
               along < edge.high + one_line;
    };
    return std::ranges::any_of(lines.edge, needed) ? lines.at[n] : lines.beside[n];
}

/// The cell between lines as they have run together: a rectangle, a trapezoid, a triangle whose
/// point is where a layer ends, or nothing.
std::optional<FootprintCell> cell_of(std::array<int, 4> corner, std::array<int, 2> degree) {
    const auto one = [&](int side) { return corner[side] == corner[(side + 1) % 4]; };
    const int points = one(0) + one(1) + one(2) + one(3);
    if (points > 1) return std::nullopt;
    if (points == 1)
        while (!one(2)) {
            std::rotate(corner.begin(), corner.begin() + 1, corner.end());
            std::swap(degree[0], degree[1]);
        }
    return FootprintCell{corner, degree};
}

/// Whether it bulges outwards at every corner.
bool is_convex(const FootprintCell& cell, const std::vector<Point>& vertex) {
    constexpr double flat = 0.05;  // sine of the angle at a corner
    const int corners = cell.corner[2] == cell.corner[3] ? 3 : 4;
    for (int n = 0; n < corners; ++n) {
        const Point &a = vertex[cell.corner[n]], &b = vertex[cell.corner[(n + 1) % corners]],
                    &c = vertex[cell.corner[(n + 2) % corners]];
        const double turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
        const double sides = std::hypot(b.x - a.x, b.y - a.y) * std::hypot(c.x - b.x, c.y - b.y);
        if (turn <= (corners == 4 ? flat * sides : 0)) return false;
    }
    return true;
}

Footprint cells_between(const AxisLines& x, const AxisLines& y) {
    if (x.at.size() * y.at.size() > most_cells)
        throw Error("room solver", "the floor plan takes too many elements",
                    "leave out corners, or details that come near to each other");
    Footprint footprint;
    std::map<std::pair<double, double>, int> known;
    std::vector<int> at;  // of each crossing of two lines, its vertex
    for (std::size_t m = 0; m < y.at.size(); ++m)
        for (std::size_t n = 0; n < x.at.size(); ++n) {
            const std::pair here{line_at(x, n, y.beside[m]), line_at(y, m, x.beside[n])};
            const auto [found, fresh] =
                known.emplace(here, static_cast<int>(footprint.vertex.size()));
            if (fresh) footprint.vertex.push_back({here.first, here.second, 0});
            at.push_back(found->second);
        }
    const std::size_t row = x.at.size();
    for (std::size_t m = 0; m + 1 < y.at.size(); ++m)
        for (std::size_t n = 0; n + 1 < row; ++n) {
            const std::size_t first = m * row + n;
            const auto cell =
                cell_of({at[first], at[first + 1], at[first + row + 1], at[first + row]},
                        {x.degree[n], y.degree[m]});
            if (cell) footprint.cell.push_back(*cell);
        }
    return footprint;
}

std::vector<Segment> segments_of(const Room& room) {
    std::vector<Segment> all;
    const RoomPlan& plan = room.plan;
    const auto add_rectangle = [&](const Point& from, const Point& to) {
        const Point corner[4] = {
            {from.x, from.y, 0}, {to.x, from.y, 0}, {to.x, to.y, 0}, {from.x, to.y, 0}};
        for (int n = 0; n < 4; ++n)
            if (!(corner[n] == corner[(n + 1) % 4]))
                all.push_back({corner[n], corner[(n + 1) % 4]});
    };
    for (std::size_t i = 0; i < plan.outline.size(); ++i)
        all.push_back({plan.outline[i], plan.outline[(i + 1) % plan.outline.size()]});
    if (plan.outline.empty()) add_rectangle({0, 0, 0}, {room.width, room.length, 0});
    for (const Block& b : plan.blocks) add_rectangle(b.from, b.to);
    for (const Space& s : plan.spaces) add_rectangle(s.from, s.to);
    for (const Passage& p : passages(room)) add_rectangle(p.from, p.to);
    for (const Opening& o : plan.openings)
        if (o.space < 0) add_rectangle(o.from, o.to);
    return all;
}

}  // namespace

double longest_element(const MeshOptions& options) {
    return options.longest * 150 / std::max(options.highest_frequency, 60.0);
}

int degree_for(double length, const MeshOptions& options) {
    const double share = length / longest_element(options);
    const int degree = share > 0.7 ? 5 : share > 0.45 ? 4 : share > 0.2 ? 3 : 2;
    return std::min(degree + options.more_degrees, 10);
}

std::vector<Passage> passages(const Room& room) {
    std::vector<Passage> all;
    for (std::size_t n = 0; n < room.plan.openings.size(); ++n) {
        const Opening& opening = room.plan.openings[n];
        if (opening.space < 0) continue;
        const Space& space = room.plan.spaces[opening.space];
        const int axis = opening.axis();
        Triple low = triple(opening.from), high = triple(opening.to);
        const Triple from = triple(space.from), to = triple(space.to);
        bool good = true;
        for (const int a : {(axis + 1) % 3, (axis + 2) % 3}) {
            low[a] = std::max(low[a], from[a]), high[a] = std::min(high[a], to[a]);
            good = good && high[a] - low[a] > 0.01;
        }
        const double at = low[axis];
        const bool beyond = (from[axis] + to[axis]) / 2 > at;
        const double face = beyond ? from[axis] : to[axis], depth = beyond ? face - at : at - face;
        if (!good || depth < -0.05 || depth > 1)
            throw Error("room solver", "the opening \"" + opening.name + "\" leads nowhere",
                        "it must lie on a wall of the room, with its space behind it within 1 m");
        low[axis] = depth < one_line ? at : std::min(at, face);
        high[axis] = depth < one_line ? at : std::max(at, face);
        all.push_back({{low[0], low[1], low[2]},
                       {high[0], high[1], high[2]},
                       axis,
                       opening.space,
                       static_cast<int>(n)});
    }
    return all;
}

AxisLines levels_of(const Room& room, const MeshOptions& options) {
    // These layers go through the whole room, and the head of a door is a small part of its edges.
    const bool mostly_level = std::ranges::any_of(
        holes(room), [&](const Hole& hole) { return is_mostly_level(hole, room.height); });
    return divide(wanted_lines(room, 2), options, mostly_level ? 2 : 1);
}

Footprint footprint_of(const Room& room, const MeshOptions& options) {
    if (!follows_axes(room.plan))
        return triangles_on(segments_of(room), longest_element(options), 5 + options.more_degrees);
    AxisLines x = divide(wanted_lines(room, 0), options, 2),
              y = divide(wanted_lines(room, 1), options, 2);
    Footprint cells = cells_between(x, y);
    if (std::ranges::all_of(
            cells.cell, [&](const FootprintCell& cell) { return is_convex(cell, cells.vertex); }))
        return cells;
    x.beside = x.at, y.beside = y.at;  // layers go through the whole room
    return cells_between(x, y);
}

}  // namespace boxroom::element_parts
