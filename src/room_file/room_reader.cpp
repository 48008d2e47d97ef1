#include "room_file/room_reader.hpp"

#include "room_file/neighbour_reader.hpp"
#include "room_file/outline_reader.hpp"
#include "room_file/wall_reader.hpp"
#include "solvers/wall_areas.hpp"

namespace boxroom {
namespace {

/// Width, length and height, or a floor plan and height. True if they are good.
bool read_sides(TableReader& table, const ReadContext& context, Room& room) {
    const Limits side{1, 50, "between 1 m and 50 m"};
    bool good = false;
    if (table.has("floor_plan")) {
        good = read_outline(table, context, room);
        for (const char* key : {"width", "length"})
            if (table.has(key))
                table.fault(key, "[room] has a floor_plan and a " + std::string(key) + " too",
                            "keep one of the two ways to describe a room");
    } else {
        const Checked width = table.required("width", Quantity::length, side);
        const Checked length = table.required("length", Quantity::length, side);
        good = width.good && length.good;
        room.width = width.value, room.length = length.value;
    }
    const Checked height = table.required("height", Quantity::length, side);
    room.height = height.value;
    return good && height.good;
}

/// A name, or { absorption_area = }, or both: as named, but with another area at its peak; an empty
/// room where nothing is said.
Contents read_contents(TableReader& room, double floor, const ReadContext& context) {
    Contents contents = contents_of(find_named_contents("bare"), floor);
    const toml::node* node = room.find("contents");
    if (!node) return contents;
    if (node->is_table()) {
        TableReader table(node->as_table(), "[room] contents", line_of(*node), context.faults);
        const Checked area = table.required("absorption_area", Quantity::area,
                                            {0, 1000, "between 0 m2 and 1000 m2"});
        const auto like = table.text("like");
        table.close();
        contents = constant_contents(area.value);
        if (like)
            context.faults.attempt(line_of(*node), "[room] contents", [&] {
                contents = contents_of(find_named_contents(*like), floor);
                contents.area = area.value;
            });
        return contents;
    }
    if (const auto name = room.text("contents"))
        context.faults.attempt(line_of(*node), "[room]",
                               [&] { contents = contents_of(find_named_contents(*name), floor); });
    return contents;
}

void read_walls(TableReader& walls, const ReadContext& context, Room& room) {
    const auto areas = wall_areas(room.width, room.length, room.height);
    for (int w = left_wall; w <= ceiling_wall; ++w) {
        const double area = context.room_known ? areas[w] : 0;
        const NamedWall wall = read_wall(walls, wall_names[w], area, context);
        room.walls[w] = wall.wall, room.wall_description[w] = wall.description;
    }
    walls.close();
}

}  // namespace

Air read_air(TableReader& file) {
    TableReader table = file.table("air", "[air]");
    Air air;
    air.speed_of_sound = table
                             .number("speed_of_sound", Quantity::speed,
                                     {250, 450, "between 250 m/s and 450 m/s"}, air.speed_of_sound)
                             .value;
    air.density = table
                      .number("density", Quantity::density,
                              {0.5, 2, "between 0.5 kg/m3 and 2 kg/m3"}, air.density)
                      .value;
    table.close();
    return air;
}

void read_room(TableReader& file, ReadContext& context, ReadRoom& read) {
    Room& room = read.room;
    TableReader table = file.required_table("room", "width, length and height");
    const bool planned = table.has("floor_plan");
    context.room_known = read_sides(table, context, room);
    const double floor =
        room.plan.outline.empty() ? room.width * room.length : outline_area(room.plan.outline);
    room.contents = read_contents(table, floor, context);
    table.close();
    TableReader walls =
        file.required_table("walls", planned ? "edge_1, edge_2, ... (or edges), floor and ceiling"
                                             : "left, right, front, back, floor and ceiling");
    planned ? read_edges(walls, context, room) : read_walls(walls, context, room);
    outline_to_rectangle(room, read.wall_keys);
    read_blocks(file, context, room.plan, read.keep_outs);
    read_spaces(file, context, room.plan);
    read_openings(file, context, room.plan, read.doors);
}

}  // namespace boxroom
