#include "viz/window/furniture.hpp"

#include <vtkCubeSource.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkRegularPolygonSource.h>
#include <vtkSphereSource.h>

#include <algorithm>

#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

vtkSmartPointer<vtkActor> solid(vtkAlgorithm* source, Colour colour) {
    vtkNew<vtkPolyDataMapper> mapper;
    mapper->SetInputConnection(source->GetOutputPort());
    auto actor = vtkSmartPointer<vtkActor>::New();
    actor->SetMapper(mapper);
    actor->GetProperty()->SetColor(look::rgb(colour).data());
    actor->GetProperty()->SetAmbient(0.35);
    actor->GetProperty()->SetDiffuse(0.65);
    return actor;
}

}  // namespace

std::pair<Point, Point> Furniture::extent(const StandingBox& box, const BoxSize& size) {
    // A box placed in the file by its acoustic centre may hang above the floor: drawn as placed.
    const double bottom =
        lies(box.facing) ? size.feet : std::max(0.0, box.sub.at.z - size.outer.height / 2);
    return {{box.footprint.x - box.width / 2, box.footprint.y - box.depth / 2, bottom},
            {box.footprint.x + box.width / 2, box.footprint.y + box.depth / 2,
             bottom + size.outer.height}};
}

void Furniture::add(Piece& piece, vtkRenderer* renderer, vtkSmartPointer<vtkActor> actor) {
    renderer->AddActor(actor);
    piece.actors.push_back({renderer, std::move(actor)});
}

bool Furniture::outdated(Piece& piece, std::vector<double> key) {
    if (piece.made_for == key) return false;
    for (auto& [renderer, actor] : piece.actors) renderer->RemoveActor(actor);
    piece.actors.clear();
    piece.made_for = std::move(key);
    return true;
}

void Furniture::show(const Arrangement& arrangement, const BoxSize& box, int chosen) {
    pieces_.resize(arrangement.boxes.size() + arrangement.seats.size());
    int thing = 0;
    for (const StandingBox& standing : arrangement.boxes) {
        show_box(pieces_[thing], standing, box, thing == chosen);
        ++thing;
    }
    for (std::size_t i = 0; i < arrangement.seats.size(); ++i, ++thing)
        show_seat(pieces_[thing], arrangement.seats[i], i, thing == chosen);
}

void Furniture::show_box(Piece& piece, const StandingBox& box, const BoxSize& size, bool chosen) {
    const auto [low, high] = extent(box, size);
    const Point looks = direction(box.facing);
    const std::array axis{looks.x, looks.y, looks.z};
    // The cone sits a hair in front of its panel; all of it relative to the footprint.
    const Point centre{box.sub.at.x - box.footprint.x + 0.004 * axis[0],
                       box.sub.at.y - box.footprint.y + 0.004 * axis[1],
                       box.sub.at.z + 0.004 * axis[2]};
    if (outdated(piece, {size.volume, axis[0], axis[1], axis[2], centre.x, centre.y, centre.z,
                         double(chosen)})) {
        const Point a{-box.width / 2, -box.depth / 2, low.z},
            b{box.width / 2, box.depth / 2, high.z};
        vtkNew<vtkCubeSource> cube;
        cube->SetBounds(a.x, b.x, -b.y, -a.y, a.z, b.z);
        add(piece, behind_, solid(cube, look::box));
        vtkNew<vtkRegularPolygonSource> cone;
        cone->SetNumberOfSides(28);
        cone->SetRadius(size.cone_radius);
        cone->SetCenter(to_world(centre).data());
        cone->SetNormal(axis[0], -axis[1], axis[2]);
        add(piece, behind_, solid(cone, look::cone));
        auto edges = box_edges(a, b);
        const auto rim = circle(centre, axis, size.cone_radius);
        edges.insert(edges.end(), rim.begin(), rim.end());
        add(piece, front_,
            lines_actor(edges, chosen ? look::chosen : look::box, chosen ? 2.2 : 1.2));
    }
    for (auto& [renderer, actor] : piece.actors) actor->SetPosition(to_world(box.footprint).data());
}

void Furniture::show_seat(Piece& piece, const Seat& seat, std::size_t index, bool chosen) {
    if (outdated(piece, {seat.at.z, double(chosen)})) {
        const Colour colour = look::seat(index);
        vtkNew<vtkSphereSource> sphere;
        sphere->SetCenter(0, 0, seat.at.z);
        sphere->SetRadius(head);
        sphere->SetThetaResolution(20);
        sphere->SetPhiResolution(14);
        add(piece, front_, solid(sphere, colour));
        auto stem = circle({0, 0, 0.012}, {0, 0, 1}, 0.16);
        stem.push_back({{0, 0, 0.012}, {0, 0, seat.at.z}});
        add(piece, behind_, lines_actor(stem, colour, 2));
        if (chosen)
            add(piece, front_,
                lines_actor(circle({0, 0, seat.at.z}, {0, 0, 1}, 0.17), look::chosen, 2.2));
    }
    for (auto& [renderer, actor] : piece.actors)
        actor->SetPosition(to_world({seat.at.x, seat.at.y, 0}).data());
}

}  // namespace boxroom
