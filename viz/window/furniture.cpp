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
        std::abs(box.facing[2]) > 0.5 ? size.feet : std::max(0.0, box.sub.at.z - size.height / 2);
    return {
        {box.footprint.x - size.width / 2, box.footprint.y - size.depth / 2, bottom},
        {box.footprint.x + size.width / 2, box.footprint.y + size.depth / 2, bottom + size.height}};
}

void Furniture::add(vtkRenderer* renderer, vtkSmartPointer<vtkActor> actor) {
    renderer->AddActor(actor);
    shown_.push_back({renderer, std::move(actor)});
}

void Furniture::show(const Arrangement& arrangement, const BoxSize& box, int chosen) {
    for (auto& [renderer, actor] : shown_) renderer->RemoveActor(actor);
    shown_.clear();
    int thing = 0;
    for (const StandingBox& standing : arrangement.boxes)
        show_box(standing, box, thing++ == chosen);
    for (std::size_t i = 0; i < arrangement.seats.size(); ++i)
        show_seat(arrangement.seats[i], i, thing++ == chosen);
}

void Furniture::show_box(const StandingBox& box, const BoxSize& size, bool chosen) {
    const auto [low, high] = extent(box, size);
    vtkNew<vtkCubeSource> cube;
    cube->SetBounds(low.x, high.x, -high.y, -low.y, low.z, high.z);
    add(behind_, solid(cube, look::box));

    // The cone sits a hair in front of its panel.
    const std::array<double, 3>& axis = box.facing;
    const Point centre{box.sub.at.x + 0.004 * axis[0], box.sub.at.y + 0.004 * axis[1],
                       box.sub.at.z + 0.004 * axis[2]};
    vtkNew<vtkRegularPolygonSource> cone;
    cone->SetNumberOfSides(28);
    cone->SetRadius(size.cone_radius);
    cone->SetCenter(to_world(centre).data());
    cone->SetNormal(axis[0], -axis[1], axis[2]);
    add(behind_, solid(cone, look::cone));

    auto edges = box_edges(low, high);
    const auto rim = circle(centre, axis, size.cone_radius);
    edges.insert(edges.end(), rim.begin(), rim.end());
    add(front_, lines_actor(edges, chosen ? look::chosen : look::box, chosen ? 2.2 : 1.2));
}

void Furniture::show_seat(const Seat& seat, std::size_t index, bool chosen) {
    const Colour colour = look::seat(index);
    vtkNew<vtkSphereSource> sphere;
    sphere->SetCenter(to_world(seat.at).data());
    sphere->SetRadius(head);
    sphere->SetThetaResolution(20);
    sphere->SetPhiResolution(14);
    add(front_, solid(sphere, colour));
    add(behind_, lines_actor({{{seat.at.x, seat.at.y, 0.01}, seat.at}}, colour, 2));
    add(behind_, lines_actor(circle({seat.at.x, seat.at.y, 0.012}, {0, 0, 1}, 0.16), colour, 2));
    if (chosen) add(front_, lines_actor(circle(seat.at, {0, 0, 1}, 0.17), look::chosen, 2.2));
}

}  // namespace boxroom
