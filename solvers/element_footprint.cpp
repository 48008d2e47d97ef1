#include "solvers/element_footprint.hpp"

#include <algorithm>
#include <array>
#include <cmath>

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
    std::vector<double> line, edge;
    void add(const Point& from, const Point& to, int axis) {
        line.push_back(triple(from)[axis]);
        line.push_back(triple(to)[axis]);
    }
};

Wanted wanted_lines(const Room& room, int axis) {
    const RoomPlan& plan = room.plan;
    Wanted wanted;
    wanted.add({0, 0, 0}, {room.width, room.length, room.height}, axis);
    if (axis < 2)
        for (const Point& corner : plan.outline) wanted.line.push_back(triple(corner)[axis]);
    for (const Block& b : plan.blocks) wanted.add(b.from, b.to, axis);
    for (const Space& s : plan.spaces) wanted.add(s.from, s.to, axis);
    for (const Passage& p : passages(room)) wanted.add(p.from, p.to, axis);
    const auto add_edges = [&](const Point& from, const Point& to) {
        for (const double at : {triple(from)[axis], triple(to)[axis]}) {
            wanted.line.push_back(at);
            // A door stands on the floor: no air turns round its threshold.
            if (axis < 2 || (at > one_line && at < room.height - one_line)) wanted.edge.push_back(at);
        }
    };
    for (const Passage& p : passages(room)) add_edges(p.from, p.to);
    for (const Opening& o : plan.openings)
        if (o.space < 0) add_edges(o.from, o.to);
    return wanted;
}

bool near_any(const std::vector<double>& all, double x) {
    return std::any_of(all.begin(), all.end(), [&](double a) { return std::abs(a - x) < one_line; });
}

AxisLines divide(Wanted wanted, const MeshOptions& options) {
    std::sort(wanted.line.begin(), wanted.line.end());
    AxisLines lines;
    const double longest = longest_element(options), layer = options.edge_layer;
    const auto upto = [&](double to, int parts) {
        const double from = lines.at.back(), length = (to - from) / parts;
        for (int n = 1; n <= parts; ++n) {
            lines.at.push_back(n == parts ? to : from + n * length);
            lines.degree.push_back(degree_for(length, options));
        }
    };
    lines.at.push_back(wanted.line.front());
    for (const double next : wanted.line) {
        const double from = lines.at.back(), length = next - from;
        if (length < one_line) continue;
        const bool below = layer > 0 && near_any(wanted.edge, from) && length > 3 * layer;
        const bool above = layer > 0 && near_any(wanted.edge, next) && length > 3 * layer;
        const double open = length - (below + above) * layer;
        if (below) upto(from + layer, 1);
        upto(above ? next - layer : next, static_cast<int>(std::ceil(open / longest - 1e-6)));
        if (above) upto(next, 1);
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

Footprint rectangles(const AxisLines& x, const AxisLines& y) {
    if (x.at.size() * y.at.size() > most_cells)
        throw Error("room solver", "the floor plan takes too many elements",
                    "leave out corners, or details that come near to each other");
    Footprint footprint;
    for (const double at_y : y.at)
        for (const double at_x : x.at) footprint.vertex.push_back({at_x, at_y, 0});
    const int row = static_cast<int>(x.at.size());
    for (std::size_t m = 0; m + 1 < y.at.size(); ++m)
        for (std::size_t n = 0; n + 1 < x.at.size(); ++n) {
            const int first = static_cast<int>(m) * row + static_cast<int>(n);
            footprint.cell.push_back(
                {{first, first + 1, first + row + 1, first + row}, {x.degree[n], y.degree[m]}});
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
    return divide(wanted_lines(room, 2), options);
}

Footprint footprint_of(const Room& room, const MeshOptions& options) {
    if (follows_axes(room.plan))
        return rectangles(divide(wanted_lines(room, 0), options),
                          divide(wanted_lines(room, 1), options));
    return triangles_on(segments_of(room), longest_element(options), 5 + options.more_degrees);
}

}  // namespace boxroom::element_parts
