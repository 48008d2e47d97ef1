#include "viz/window/room_scene.hpp"

#include <vtkProperty.h>

#include <algorithm>
#include <cmath>

#include "viz/outline.hpp"
#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

using LinePairs = std::vector<std::pair<Point, Point>>;

LinePairs ring(const std::vector<Point>& corners) {
    LinePairs out;
    for (std::size_t i = 0; i < corners.size(); ++i)
        out.push_back({corners[i], corners[(i + 1) % corners.size()]});
    return out;
}

/// Every corner of the floor plan from floor to ceiling, and both rings.
LinePairs room_edges(const RoomView& view) {
    std::vector<Point> low = view.outline, high = view.outline;
    for (Point& p : low) p.z = 0;
    for (Point& p : high) p.z = view.height;
    LinePairs out = ring(low);
    for (const auto& edge : ring(high)) out.push_back(edge);
    for (std::size_t i = 0; i < low.size(); ++i) out.push_back({low[i], high[i]});
    return out;
}

}  // namespace

RoomScene::RoomScene(const RoomView& view, vtkRenderer* walls, vtkRenderer* room) {
    add_walls(view, walls);
    add_floor(view, walls);
    add_openings(view, walls);
    add_blocks(view, walls, room);
    room->AddActor(lines_actor(room_edges(view), look::edge, 1.6));
}

/// One colour a construction, in the order in which they turn up.
Colour RoomScene::colour_of(const std::string& construction, const std::string& where) {
    const auto found = std::find_if(constructions_.begin(), constructions_.end(),
                                    [&](const auto& c) { return c.name == construction; });
    if (found != constructions_.end()) {
        found->where += ", " + where;
        return found->colour;
    }
    constructions_.push_back(
        {construction, where, look::walls[constructions_.size() % look::walls.size()]});
    return constructions_.back().colour;
}

void RoomScene::add_walls(const RoomView& view, vtkRenderer* renderer) {
    for (const SurfaceLook& surface : view.surfaces) {
        const bool floor = surface.inward.z > 0.5;
        const Colour seen = look::over(colour_of(surface.construction, surface.name), look::paper,
                                       floor ? 0.22 : 0.30);
        if (floor) floor_colour_ = seen;
        renderer->AddActor(polygon_actor(surface.corners, seen, surface.inward));
    }
}

void RoomScene::add_floor(const RoomView& view, vtkRenderer* renderer) {
    // A line for every metre, so that distances can be read off.
    LinePairs metres;
    for (const bool along_y : {false, true})
        for (double at = 1; at < (along_y ? view.width : view.length); ++at)
            for (const auto& [low, high] : inside_outline(view.outline, at, along_y))
                metres.push_back(
                    along_y ? std::pair<Point, Point>{{at, low, 0.002}, {at, high, 0.002}}
                            : std::pair<Point, Point>{{low, at, 0.002}, {high, at, 0.002}});
    if (!metres.empty()) renderer->AddActor(lines_actor(metres, look::grid, 1));

    LinePairs outlines;
    for (const KeepOut& k : view.keep_outs) {
        const Corners on_floor = level_rectangle(k.x0, k.y0, k.x1, k.y1, 0.02);
        renderer->AddActor(quads_actor({level_rectangle(k.x0, k.y0, k.x1, k.y1, 0.006)},
                                       look::over(look::keep_out, floor_colour_, 0.30)));
        for (const auto& edge : ring({on_floor.begin(), on_floor.end()})) outlines.push_back(edge);
        // Hatched at 45 degrees: it says "not here" without colour too.
        const double wide = k.x1 - k.x0, deep = k.y1 - k.y0;
        for (double s = 0.12; s < wide + deep; s += 0.12) {
            const double s0 = std::max(0.0, s - deep), s1 = std::min(s, wide);
            outlines.push_back(
                {{k.x0 + s0, k.y0 + s - s0, 0.02}, {k.x0 + s1, k.y0 + s - s1, 0.02}});
        }
    }
    if (!outlines.empty()) renderer->AddActor(lines_actor(outlines, look::keep_out, 1));
}

/// An opening is a hole: the paper behind the wall shows, framed; beyond it the room next door.
void RoomScene::add_openings(const RoomView& view, vtkRenderer* renderer) {
    LinePairs frames, beyond;
    for (const OpeningLook& opening : view.openings) {
        for (const auto& edge : ring(opening.corners)) frames.push_back(edge);
        for (const auto& [a, b] : {std::pair{0, 2}, std::pair{1, 3}})
            frames.push_back({opening.corners[a], opening.corners[b]});
    }
    for (const CuboidLook& space : view.spaces)
        for (const auto& edge : box_edges(space.from, space.to)) beyond.push_back(edge);
    if (!frames.empty()) renderer->AddActor(lines_actor(frames, look::edge, 1.4));
    if (!beyond.empty()) renderer->AddActor(lines_actor(beyond, look::faint, 1));
}

void RoomScene::add_blocks(const RoomView& view, vtkRenderer* walls, vtkRenderer* room) {
    constexpr double sitting = 1.0;  // [m]; what is lower hides nobody's head
    LinePairs edges;
    for (const CuboidLook& block : view.blocks) {
        const Colour colour =
            look::over(colour_of(block.construction, block.name), look::paper, 0.55);
        const bool hollow = block.to.z > sitting;
        (hollow ? walls : room)->AddActor(cuboid_actor(block.from, block.to, colour, hollow));
        for (const auto& edge : box_edges(block.from, block.to)) edges.push_back(edge);
    }
    if (!edges.empty()) room->AddActor(lines_actor(edges, look::edge, 1.4));
}

}  // namespace boxroom
