// Rooms that are not boxes: [room] floor_plan, [[block]], [[space]], [[opening]].
#include <algorithm>
#include <cmath>

#include "room_file/scenario_reader.hpp"
#include "room_file/wall_reader.hpp"

namespace boxroom {
namespace {

constexpr double rounding = 1e-6;
const Limits place{-100, 100, "a place within 100 m"};

std::string edge_name(std::size_t index) {
    return "edge_" + std::to_string(index + 1);
}

}  // namespace

/// `from` and `to`, the second beyond the first along every axis but those that may be flat.
bool ScenarioReader::read_cuboid(TableReader& table, Point& from, Point& to, bool flat) {
    table.require("from", "[\"0 m\", \"0 m\", \"0 m\"]");
    table.require("to", "[\"0.6 m\", \"0.4 m\", \"2.4 m\"]");
    const auto a = table.numbers("from", Quantity::length, 3, place);
    const auto b = table.numbers("to", Quantity::length, 3, place);
    if (!a || !b) return false;
    int equal = 0;
    bool rising = true;
    for (int i = 0; i < 3; ++i) {
        equal += (*a)[i] == (*b)[i];
        rising = rising && (*a)[i] <= (*b)[i];
    }
    if (!rising || equal != (flat ? 1 : 0)) {
        table.fault("to",
                    flat ? table.title() + " must be a flat rectangle on a wall"
                         : table.title() + " has no volume: `to` must lie beyond `from`",
                    flat ? "write `from` and `to` with one coordinate alike, the wall's, and the "
                           "others rising"
                         : "write the corner nearest to the left, the front and the floor as "
                           "`from`");
        return false;
    }
    from = {(*a)[0], (*a)[1], (*a)[2]};
    to = {(*b)[0], (*b)[1], (*b)[2]};
    return true;
}

/// The corners of the floor plan in order; width and length become those of the rectangle around.
bool ScenarioReader::read_outline(TableReader& room) {
    const toml::node* node = room.find("floor_plan");
    const toml::array* list = node->as_array();
    const std::string example = "write [[\"0 m\", \"0 m\"], [\"4 m\", \"0 m\"], ...], going round";
    if (!list || list->size() < 3) {
        room.fault("floor_plan", "[room] floor_plan must be a list of three corners or more",
                   example);
        return false;
    }
    std::vector<Point> outline;
    for (const toml::node& corner : *list) {
        const toml::array* pair = corner.as_array();
        toml::table holder;
        if (!pair) {
            faults_.add(line_of(corner), "[room] floor_plan lists " + as_written(corner), example);
            return false;
        }
        holder.insert("corner", *pair);
        TableReader one(&holder, "[room] floor_plan", line_of(corner), faults_);
        const auto at = one.numbers("corner", Quantity::length, 2, {0, 50, "between 0 m and 50 m"});
        if (!at) return false;
        outline.push_back({(*at)[0], (*at)[1], 0});
    }
    Point low = outline[0], high = outline[0];
    for (const Point& p : outline) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y), 0};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), 0};
    }
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point& next = outline[(i + 1) % outline.size()];
        if (std::hypot(next.x - outline[i].x, next.y - outline[i].y) < 0.01) {
            room.fault("floor_plan", "[room] floor_plan has " + edge_name(i) + " of no length",
                       "leave out the corner that comes twice");
            return false;
        }
    }
    if (const auto [a, b] = crossing_edges(outline); a >= 0) {
        room.fault("floor_plan",
                   "[room] floor_plan crosses itself: " + edge_name(a) + " and " + edge_name(b),
                   "give the corners in the order in which one walks along the walls");
        return false;
    }
    if (low.x > rounding || low.y > rounding || high.x < 1 || high.y < 1) {
        room.fault("floor_plan",
                   "[room] floor_plan must begin at 0 on both axes and be 1 m wide and long",
                   "count x from the leftmost wall and y from the frontmost");
        return false;
    }
    s_.acoustics.room.width = high.x;
    s_.acoustics.room.length = high.y;
    s_.acoustics.room.plan.outline = std::move(outline);
    return true;
}

/// Edges by name, floor and ceiling. `edges` serves all that have no line of their own.
void ScenarioReader::read_plan_walls(TableReader& walls) {
    RoomPlan& plan = s_.acoustics.room.plan;
    if (plan.outline.empty()) return;  // a faulty one: its edges are not known
    NamedWall common;
    const bool all = walls.has("edges");
    if (all) read_wall(walls, "edges", s_.acoustics.air, common.wall, common.description, faults_);
    for (std::size_t i = 0; i < plan.outline.size(); ++i) {
        NamedWall edge = common;
        edge.name = edge_name(i);
        if (!all || walls.has(edge.name))
            read_wall(walls, edge.name, s_.acoustics.air, edge.wall, edge.description, faults_);
        plan.edges.push_back(edge);
    }
    for (const int w : {floor_wall, ceiling_wall})
        read_wall(walls, wall_names[w], s_.acoustics.air, s_.acoustics.room.walls[w],
                  s_.acoustics.room.wall_description[w], faults_);
    walls.close();
}

void ScenarioReader::read_blocks() {
    for (TableReader& table : root_.tables("block")) {
        Block block;
        block.name = table.text("name").value_or(
            "block " + std::to_string(s_.acoustics.room.plan.blocks.size() + 1));
        const bool good = read_cuboid(table, block.from, block.to, false);
        block.surface.name = block.name;
        read_wall(table, "surface", s_.acoustics.air, block.surface.wall, block.surface.description,
                  faults_);
        table.close();
        if (!good) continue;
        if (room_known_ &&
            (block.to.x <= 0 || block.to.y <= 0 || block.to.z <= 0 ||
             block.from.x >= s_.acoustics.room.width || block.from.y >= s_.acoustics.room.length ||
             block.from.z >= s_.acoustics.room.height)) {
            table.fault("from", "[[block]] \"" + block.name + "\" is outside the room",
                        "keep it within the room's walls");
            continue;
        }
        s_.acoustics.room.plan.blocks.push_back(block);
        if (block.from.z < 1)  // boxes keep off it
            s_.wanted.keep_outs.push_back({block.name, std::max(0.0, block.from.x),
                                           std::max(0.0, block.from.y),
                                           std::min(s_.acoustics.room.width, block.to.x),
                                           std::min(s_.acoustics.room.length, block.to.y)});
    }
}

void ScenarioReader::read_spaces() {
    for (TableReader& table : root_.tables("space")) {
        Space space;
        space.name = table.required_text("name", "hall").value_or("");
        const bool good = read_cuboid(table, space.from, space.to, false);
        NamedWall common;
        const bool all = table.has("walls");
        if (all)
            read_wall(table, "walls", s_.acoustics.air, common.wall, common.description, faults_);
        for (const char* name : wall_names) {
            NamedWall wall = common;
            wall.name = name;
            if (!all || table.has(name))
                read_wall(table, name, s_.acoustics.air, wall.wall, wall.description, faults_);
            space.walls.push_back(wall);
        }
        table.close();
        if (!good) continue;
        // Only the corners and the middle are looked at: enough for the usual slip.
        const Point middle{(space.from.x + space.to.x) / 2, (space.from.y + space.to.y) / 2,
                           (space.from.z + space.to.z) / 2};
        bool reaches = s_.acoustics.room.contains(middle);
        const double in = 1e-3;
        for (const double x : {space.from.x + in, space.to.x - in})
            for (const double y : {space.from.y + in, space.to.y - in})
                for (const double z : {space.from.z + in, space.to.z - in})
                    reaches = reaches || s_.acoustics.room.contains({x, y, z});
        if (room_known_ && reaches)
            table.fault("from", "[[space]] \"" + space.name + "\" reaches into the room",
                        "put it beyond a wall: from and to are in the room's own coordinates");
        s_.acoustics.room.plan.spaces.push_back(space);
    }
}

/// True if the rectangle lies on the floor, the ceiling or an edge along an axis.
bool ScenarioReader::on_a_wall(const Opening& o) const {
    const Room& r = s_.acoustics.room;
    const bool height = o.from.z >= -rounding && o.to.z <= r.height + rounding;
    if (o.axis() == 2) {
        const bool level =
            std::abs(o.from.z) < rounding || std::abs(o.from.z - r.height) < rounding;
        return level && r.plan.covers(o.from.x, o.from.y) && r.plan.covers(o.to.x, o.to.y);
    }
    std::vector<Point> outline = r.plan.outline;
    if (outline.empty())
        outline = {{0, 0, 0}, {r.width, 0, 0}, {r.width, r.length, 0}, {0, r.length, 0}};
    for (std::size_t i = 0; i < outline.size() && height; ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const bool across_x = o.axis() == 0;
        if (across_x ? a.x != b.x || std::abs(a.x - o.from.x) > rounding
                     : a.y != b.y || std::abs(a.y - o.from.y) > rounding)
            continue;
        const auto [low, high] = across_x ? std::minmax(a.y, b.y) : std::minmax(a.x, b.x);
        if ((across_x ? o.from.y : o.from.x) >= low - rounding &&
            (across_x ? o.to.y : o.to.x) <= high + rounding)
            return true;
    }
    return false;
}

void ScenarioReader::read_openings() {
    for (TableReader& table : root_.tables("opening")) {
        Opening opening;
        opening.name = table.text("name").value_or(
            "opening " + std::to_string(s_.acoustics.room.plan.openings.size() + 1));
        const bool good = read_cuboid(table, opening.from, opening.to, true);
        const auto space = table.text("space");
        table.close();
        if (space) {
            const auto& spaces = s_.acoustics.room.plan.spaces;
            const auto found = std::find_if(spaces.begin(), spaces.end(),
                                            [&](const Space& s) { return s.name == *space; });
            opening.space = static_cast<int>(found - spaces.begin());
            if (found == spaces.end()) {
                table.fault("space", "there is no [[space]] named \"" + *space + '"',
                            "name one of the file's spaces, or leave `space` out for the outside");
                continue;
            }
        }
        if (!good) continue;
        if (room_known_ && !on_a_wall(opening)) {
            table.fault("from", "[[opening]] \"" + opening.name + "\" is not on a wall",
                        "give a rectangle on a straight wall, the floor or the ceiling, all of it "
                        "within that surface");
            continue;
        }
        s_.acoustics.room.plan.openings.push_back(opening);
    }
}

/// A floor plan that is a rectangle is one: its edges become the four walls.
void ScenarioReader::plan_to_rectangle() {
    Room& r = s_.acoustics.room;
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
        s_.wall_keys[wall_of[i]] = edge_name(i);
    }
    r.plan.outline.clear();
    r.plan.edges.clear();
}

}  // namespace boxroom
