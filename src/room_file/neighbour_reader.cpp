// What makes a room more than its walls: blocks in it, spaces next door, openings between.
#include "room_file/neighbour_reader.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "room_file/wall_reader.hpp"
#include "solvers/floor_outline.hpp"
#include "solvers/wall_areas.hpp"

namespace boxroom {
namespace {

constexpr double narrowest = 0.02;    // of an opening [m]: the solvers know no narrower ones
constexpr double highest_sill = 0.1;  // of what one walks through [m]
constexpr double thickest = 1;        // of a wall between the room and a space [m]
const Limits place{-100, 100, "a place within 100 m"};

/// `from` and `to`, the second beyond the first along every axis but those that may be flat.
bool read_cuboid(TableReader& table, Point& from, Point& to, bool flat) {
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

/// Whether two cuboids share air, or two flat rectangles of one plane a piece of it.
bool overlap(const Point& a_from, const Point& a_to, const Point& b_from, const Point& b_to) {
    const auto along = [](double a0, double a1, double b0, double b1) {
        const bool flat = a0 == a1 && b0 == b1;
        return flat ? std::abs(a0 - b0) < rounding : std::min(a1, b1) - std::max(a0, b0) > rounding;
    };
    return along(a_from.x, a_to.x, b_from.x, b_to.x) && along(a_from.y, a_to.y, b_from.y, b_to.y) &&
           along(a_from.z, a_to.z, b_from.z, b_to.z);
}

/// One of `others` that overlaps, or null.
template <typename Thing>
const Thing* overlapped(const std::vector<Thing>& others, const Thing& thing) {
    for (const Thing& other : others)
        if (overlap(other.from, other.to, thing.from, thing.to)) return &other;
    return nullptr;
}

/// Only the corners and the middle are looked at: enough for the usual slip.
bool reaches_into(const Room& room, const Space& space) {
    const Point &a = space.from, &b = space.to;
    bool reaches = room.contains({(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2});
    const double in = 1e-3;
    for (const double x : {a.x + in, b.x - in})
        for (const double y : {a.y + in, b.y - in})
            for (const double z : {a.z + in, b.z - in})
                reaches = reaches || room.contains({x, y, z});
    return reaches;
}

/// Faults an opening that the solvers could not see through; true if there is nothing to fault.
bool opens(TableReader& table, const Opening& opening, const RoomPlan& plan) {
    const auto list = [](const Point& p) { return std::array{p.x, p.y, p.z}; };
    const auto low = list(opening.from), high = list(opening.to);
    auto first = low, last = high;  // of what lies behind it
    if (opening.space >= 0) {
        first = list(plan.spaces[static_cast<std::size_t>(opening.space)].from);
        last = list(plan.spaces[static_cast<std::size_t>(opening.space)].to);
    }
    const auto axis = static_cast<std::size_t>(opening.axis());
    const double wall =
        std::min(std::abs(low[axis] - first[axis]), std::abs(low[axis] - last[axis]));
    double narrow = HUGE_VAL;
    for (const std::size_t a : {(axis + 1) % 3, (axis + 2) % 3})
        narrow = std::min(narrow, std::min(high[a], last[a]) - std::max(low[a], first[a]));
    const std::string who = "[[opening]] \"" + opening.name + '"';
    if (narrow <= 0 || wall >= thickest)
        table.fault("space", who + " does not meet its space",
                    "put it where wall and space lie side by side, with less than 1 m of wall "
                    "between");
    else if (narrow < narrowest - rounding)
        table.fault("to", who + " is narrower than 2 cm",
                    "leave cracks out: the absorption of a wall holds them");
    else
        return true;
    return false;
}

/// True if the rectangle lies on the floor, the ceiling or an edge along an axis.
bool on_a_wall(const Opening& o, const Room& r) {
    const bool height = o.from.z >= -rounding && o.to.z <= r.height + rounding;
    if (o.axis() == 2) {
        const bool level =
            std::abs(o.from.z) < rounding || std::abs(o.from.z - r.height) < rounding;
        return level && r.plan.covers(o.from.x, o.from.y) && r.plan.covers(o.to.x, o.to.y);
    }
    const std::vector<Point> outline = floor_outline(r);
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

}  // namespace

void read_blocks(TableReader& file, const ReadContext& context, RoomPlan& plan,
                 std::vector<KeepOut>& keep_outs) {
    const Room& room = context.room;
    for (TableReader& table : file.tables("block")) {
        Block block;
        block.name = table.text("name").value_or("block " + std::to_string(plan.blocks.size() + 1));
        const bool good = read_cuboid(table, block.from, block.to, false);
        block.surface = read_wall(table, "surface", std::nullopt, context);
        block.surface.name = block.name;
        table.close();
        if (!good) continue;
        const bool outside = block.to.x <= 0 || block.to.y <= 0 || block.to.z <= 0 ||
                             block.from.x >= room.width || block.from.y >= room.length ||
                             block.from.z >= room.height;
        if (context.room_known && outside) {
            table.fault("from", "[[block]] \"" + block.name + "\" is outside the room",
                        "keep it within the room's walls");
            continue;
        }
        plan.blocks.push_back(block);
        if (block.from.z < 1)  // boxes keep off it
            keep_outs.push_back({block.name, std::max(0.0, block.from.x),
                                 std::max(0.0, block.from.y), std::min(room.width, block.to.x),
                                 std::min(room.length, block.to.y)});
    }
}

void read_spaces(TableReader& file, const ReadContext& context, RoomPlan& plan) {
    for (TableReader& table : file.tables("space")) {
        Space space;
        space.name = table.required_text("name", "hall").value_or("");
        const bool good = read_cuboid(table, space.from, space.to, false);
        NamedWall common;
        const bool all = table.has("walls");
        if (all) common = read_wall(table, "walls", std::nullopt, context);
        const auto& from = space.from;
        const auto& to = space.to;
        const auto areas = wall_areas(to.x - from.x, to.y - from.y, to.z - from.z);
        for (int w = left_wall; w <= ceiling_wall; ++w) {
            const char* name = wall_names[w];
            space.walls.push_back(all && !table.has(name)
                                      ? common
                                      : read_wall(table, name, good ? areas[w] : 0, context));
            space.walls.back().name = name;
        }
        if (table.has("contents"))
            table.fault("contents", "[[space]] \"" + space.name + "\" cannot have contents",
                        "a space next door counts with its walls alone; [room] has contents");
        table.close();
        if (!good) continue;
        if (context.room_known && reaches_into(context.room, space))
            table.fault("from", "[[space]] \"" + space.name + "\" reaches into the room",
                        "put it beyond a wall: from and to are in the room's own coordinates");
        if (const Space* other = overlapped(plan.spaces, space))
            table.fault("from",
                        "[[space]] \"" + space.name + "\" reaches into \"" + other->name + '"',
                        "let them lie beside each other, or write one space for both");
        plan.spaces.push_back(space);
    }
}

void read_openings(TableReader& file, const ReadContext& context, RoomPlan& plan,
                   std::vector<Point>& doors) {
    std::vector<Opening> all;  // the shut ones, too
    for (TableReader& table : file.tables("opening")) {
        Opening opening;
        opening.name =
            table.text("name").value_or("opening " + std::to_string(plan.openings.size() + 1));
        const bool good = read_cuboid(table, opening.from, opening.to, true);
        const auto space = table.text("space");
        const std::string state = table.text("state").value_or("open");
        opening.either = state == "either";
        if (!opening.either && state != "open" && state != "shut")
            table.fault("state", "[[opening]] state is \"" + state + "\"",
                        "write \"open\", \"shut\", or \"either\" where the worse of both counts");
        table.close();
        if (space) {
            const auto found = std::ranges::find(plan.spaces, *space, &Space::name);
            opening.space = static_cast<int>(found - plan.spaces.begin());
            if (found == plan.spaces.end()) {
                table.fault("space", "there is no [[space]] named \"" + *space + '"',
                            "name one of the file's spaces, or leave `space` out for the outside");
                continue;
            }
        }
        if (!good) continue;
        if (context.room_known && !on_a_wall(opening, context.room)) {
            table.fault("from", "[[opening]] \"" + opening.name + "\" is not on a wall",
                        "give a rectangle on a straight wall, the floor or the ceiling, all of it "
                        "within that surface");
            continue;
        }
        if (const Opening* other = overlapped(all, opening)) {
            table.fault("from",
                        "[[opening]] \"" + opening.name + "\" overlaps \"" + other->name + '"',
                        "give each its own part of the wall");
            continue;
        }
        all.push_back(opening);
        if (!opens(table, opening, plan)) continue;
        if (opening.axis() != 2 && opening.from.z <= highest_sill)
            doors.push_back(
                {(opening.from.x + opening.to.x) / 2, (opening.from.y + opening.to.y) / 2, 0});
        if (state != "shut") plan.openings.push_back(opening);
    }
    keep_joined(plan);
}

}  // namespace boxroom
