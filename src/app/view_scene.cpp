// The room as the window draws it.
#include "app/view_scene.hpp"

#include "solvers/floor_outline.hpp"
#include "viz/outline.hpp"

namespace boxroom {
namespace {

/// The upright rectangle over the edge from a to b.
std::vector<Point> upright(const Point& a, const Point& b, double height) {
    return {{a.x, a.y, 0}, {b.x, b.y, 0}, {b.x, b.y, height}, {a.x, a.y, height}};
}

std::vector<Point> at_height(std::vector<Point> corners, double z) {
    for (Point& p : corners) p.z = z;
    return corners;
}

void add_walls(RoomView& view, const Room& room) {
    const std::vector<Point>& corner = view.outline;
    // The outline of a rectangle goes round as front, right, back, left.
    const int of_edge[4] = {front_wall, right_wall, back_wall, left_wall};
    for (std::size_t i = 0; i < corner.size(); ++i) {
        const Point &a = corner[i], &b = corner[(i + 1) % corner.size()];
        const bool plan = !room.plan.edges.empty();
        const std::string& name = plan ? room.plan.edges[i].name : wall_names[of_edge[i]];
        const std::string& what =
            plan ? room.plan.edges[i].description : room.wall_description[of_edge[i]];
        const Point out = outwards(corner, i);
        view.surfaces.push_back({name, what, upright(a, b, room.height), {-out.x, -out.y, 0}});
    }
    view.surfaces.push_back(
        {"floor", room.wall_description[floor_wall], at_height(corner, 0), {0, 0, 1}});
    view.surfaces.push_back({"ceiling",
                             room.wall_description[ceiling_wall],
                             at_height(corner, room.height),
                             {0, 0, -1}});
}

/// The four corners of a flat rectangle between two opposite ones.
std::vector<Point> flat_rectangle(const Opening& o) {
    if (o.axis() == 2)
        return {o.from, {o.to.x, o.from.y, o.from.z}, o.to, {o.from.x, o.to.y, o.from.z}};
    return {o.from, {o.to.x, o.to.y, o.from.z}, o.to, {o.from.x, o.from.y, o.to.z}};
}

}  // namespace

RoomView room_scene(const Scenario& scenario) {
    const Room& room = scenario.acoustics.room;
    RoomView view;
    view.title = scenario.title;
    view.width = room.width, view.length = room.length, view.height = room.height;
    view.gap = scenario.wanted.spots.gap;
    view.outline = floor_outline(room);
    add_walls(view, room);
    view.no_floor = outside_outline(room.plan.outline, room.width, room.length);
    for (const Block& block : room.plan.blocks)
        view.blocks.push_back({block.name, block.surface.description, block.from, block.to});
    for (const Space& space : room.plan.spaces)
        view.spaces.push_back({space.name, "", space.from, space.to});
    for (const Opening& opening : room.plan.openings)
        view.openings.push_back(
            {opening.name, opening.space < 0 ? "outside" : room.plan.spaces[opening.space].name,
             flat_rectangle(opening)});
    view.keep_outs = scenario.wanted.keep_outs;
    view.frequency = scenario.acoustics.frequency;
    view.band_low = scenario.judgement.target.band.low;
    view.band_high = scenario.judgement.target.band.high;
    return view;
}

}  // namespace boxroom
