#include "viz/window/room_scene.hpp"

#include <vtkProperty.h>

#include <algorithm>
#include <cmath>

#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

constexpr int floor_index = 4;  // of left, right, front, back, floor, ceiling

}  // namespace

RoomScene::RoomScene(const RoomView& view, vtkRenderer* walls, vtkRenderer* room) {
    add_walls(view, walls);
    add_floor(view, walls);
    room->AddActor(
        lines_actor(box_edges({0, 0, 0}, {view.width, view.length, view.height}), look::edge, 1.6));
}

void RoomScene::add_walls(const RoomView& view, vtkRenderer* renderer) {
    const double w = view.width, l = view.length, h = view.height;
    const std::array<Corners, 6> wall{{{{{0, 0, 0}, {0, l, 0}, {0, l, h}, {0, 0, h}}},
                                       {{{w, 0, 0}, {w, l, 0}, {w, l, h}, {w, 0, h}}},
                                       {{{0, 0, 0}, {w, 0, 0}, {w, 0, h}, {0, 0, h}}},
                                       {{{0, l, 0}, {w, l, 0}, {w, l, h}, {0, l, h}}},
                                       level_rectangle(0, 0, w, l, 0),
                                       level_rectangle(0, 0, w, l, h)}};
    const Point middle{w / 2, l / 2, h / 2};
    std::vector<std::string> known;
    for (int i = 0; i < 6; ++i) {
        const std::string& what = view.walls[i].construction;
        const auto found = std::find(known.begin(), known.end(), what);
        const std::size_t kind = found - known.begin();
        const Colour colour = look::walls[kind % look::walls.size()];
        if (found == known.end()) {
            known.push_back(what);
            constructions_.push_back({what + " (" + view.walls[i].name, colour});
        } else {
            constructions_[kind].name += ", " + view.walls[i].name;
        }
        const Colour seen = look::over(colour, look::paper, i == floor_index ? 0.22 : 0.30);
        if (i == floor_index) floor_colour_ = seen;
        renderer->AddActor(quads_actor({wall[i]}, seen, &middle));
    }
    for (Construction& c : constructions_) c.name += ")";
}

void RoomScene::add_floor(const RoomView& view, vtkRenderer* renderer) {
    // A line for every metre, so that distances can be read off.
    std::vector<std::pair<Point, Point>> metres;
    for (double x = 1; x < view.width; ++x)
        metres.push_back({{x, 0, 0.002}, {x, view.length, 0.002}});
    for (double y = 1; y < view.length; ++y)
        metres.push_back({{0, y, 0.002}, {view.width, y, 0.002}});
    if (!metres.empty()) renderer->AddActor(lines_actor(metres, look::grid, 1));

    std::vector<std::pair<Point, Point>> outlines;
    for (const KeepOut& k : view.keep_outs) {
        renderer->AddActor(quads_actor({level_rectangle(k.x0, k.y0, k.x1, k.y1, 0.006)},
                                       look::over(look::keep_out, floor_colour_, 0.30)));
        for (const auto& [a, b] : {std::pair<Point, Point>{{k.x0, k.y0, 0.02}, {k.x1, k.y0, 0.02}},
                                   {{k.x1, k.y0, 0.02}, {k.x1, k.y1, 0.02}},
                                   {{k.x1, k.y1, 0.02}, {k.x0, k.y1, 0.02}},
                                   {{k.x0, k.y1, 0.02}, {k.x0, k.y0, 0.02}}})
            outlines.push_back({a, b});
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

}  // namespace boxroom
