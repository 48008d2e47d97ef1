#include "room_file/outline_reader.hpp"

#include <algorithm>

#include "room_file/wall_reader.hpp"
#include "solvers/floor_outline.hpp"

namespace boxroom {
namespace {

std::string edge_name(std::size_t index) {
    return "edge_" + std::to_string(index + 1);
}

/// The corners as the file lists them; none where one of them is no pair of lengths.
std::vector<Point> read_corners(TableReader& room, const ReadContext& context) {
    const toml::node* node = room.find("floor_plan");
    const toml::array* list = node->as_array();
    constexpr std::size_t most_corners = 200;
    const std::string example = "write [[\"0 m\", \"0 m\"], [\"4 m\", \"0 m\"], ...], going round";
    if (!list || list->size() < 3 || list->size() > most_corners) {
        room.fault("floor_plan", "[room] floor_plan must be a list of 3 to 200 corners", example);
        return {};
    }
    std::vector<Point> outline;
    for (const toml::node& corner : *list) {
        if (!corner.is_array()) {
            context.faults.add(line_of(corner), "[room] floor_plan lists " + as_written(corner),
                               example);
            return {};
        }
        toml::table holder;
        holder.insert("corner", *corner.as_array());
        TableReader one(&holder, "[room] floor_plan", line_of(corner), context.faults);
        const auto at = one.numbers("corner", Quantity::length, 2, {0, 50, "between 0 m and 50 m"});
        if (!at) return {};
        outline.push_back({(*at)[0], (*at)[1], 0});
    }
    return outline;
}

/// The first edge that is too short to be a wall, from 0; -1: none.
int short_edge(const std::vector<Point>& outline) {
    for (std::size_t i = 0; i < outline.size(); ++i)
        if (edge_length(outline, i) < 0.01) return static_cast<int>(i);
    return -1;
}

}  // namespace

bool read_outline(TableReader& table, const ReadContext& context, Room& room) {
    std::vector<Point> outline = read_corners(table, context);
    if (outline.empty()) return false;
    Point low = outline[0], high = outline[0];
    for (const Point& p : outline) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y), 0};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), 0};
    }
    const auto refuse = [&](const std::string& what, const char* mend) {
        table.fault("floor_plan", "[room] floor_plan " + what, mend);
        return false;
    };
    if (const int edge = short_edge(outline); edge >= 0)
        return refuse("has " + edge_name(edge) + " of no length",
                      "leave out the corner that comes twice");
    if (const auto [a, b] = crossing_edges(outline); a >= 0)
        return refuse("crosses itself: " + edge_name(a) + " and " + edge_name(b),
                      "give the corners in the order in which one walks along the walls");
    if (low.x > rounding || low.y > rounding || high.x < 1 || high.y < 1)
        return refuse("must begin at 0 on both axes and be 1 m wide and long",
                      "count x from the leftmost wall and y from the frontmost");
    room.width = high.x, room.length = high.y;
    room.plan.outline = std::move(outline);
    return true;
}

void read_edges(TableReader& walls, const ReadContext& context, Room& room) {
    RoomPlan& plan = room.plan;
    if (plan.outline.empty()) return;  // a faulty one: its edges are not known
    NamedWall common;
    const bool all = walls.has("edges");
    if (all) common = read_wall(walls, "edges", std::nullopt, context);
    for (std::size_t i = 0; i < plan.outline.size(); ++i) {
        const std::string name = edge_name(i);
        const double area = edge_length(plan.outline, i) * room.height;
        plan.edges.push_back(all && !walls.has(name) ? common
                                                     : read_wall(walls, name, area, context));
        plan.edges.back().name = name;
    }
    for (const int w : {floor_wall, ceiling_wall}) {
        const NamedWall wall = read_wall(walls, wall_names[w], outline_area(plan.outline), context);
        room.walls[w] = wall.wall, room.wall_description[w] = wall.description;
    }
    walls.close();
}

void outline_to_rectangle(Room& r, std::array<std::string, 6>& keys) {
    if (r.plan.outline.size() != 4) return;
    std::array<int, 4> wall_of{};
    for (int i = 0; i < 4; ++i) {
        const Point &a = r.plan.outline[i], &b = r.plan.outline[(i + 1) % 4];
        if (a.x == b.x && (a.x == 0 || a.x == r.width))
            wall_of[i] = a.x == 0 ? left_wall : right_wall;
        else if (a.y == b.y && (a.y == 0 || a.y == r.length))
            wall_of[i] = a.y == 0 ? front_wall : back_wall;
        else
            return;
    }
    for (int i = 0; i < 4; ++i) {
        r.walls[wall_of[i]] = r.plan.edges[i].wall;
        r.wall_description[wall_of[i]] = r.plan.edges[i].description;
        keys[wall_of[i]] = r.plan.edges[i].name;
    }
    r.plan.outline.clear();
    r.plan.edges.clear();
}

}  // namespace boxroom
