#include "viz/window/shapes.hpp"

#include <vtkCellArray.h>
#include <vtkCubeSource.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkTriangleFilter.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "viz/window/look.hpp"

namespace boxroom {
namespace {

vtkSmartPointer<vtkActor> flat_actor(vtkPolyData* data, Colour colour) {
    vtkNew<vtkPolyDataMapper> mapper;
    mapper->SetInputData(data);
    auto actor = vtkSmartPointer<vtkActor>::New();
    actor->SetMapper(mapper);
    actor->GetProperty()->SetColor(look::rgb(colour).data());
    actor->GetProperty()->LightingOff();
    return actor;
}

using Vector = std::array<double, 3>;
Vector minus(const Vector& a, const Vector& b) {
    return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
Vector cross(const Vector& a, const Vector& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
double dot(const Vector& a, const Vector& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

}  // namespace

Corners level_rectangle(double x0, double y0, double x1, double y1, double z) {
    return {{{x0, y0, z}, {x1, y0, z}, {x1, y1, z}, {x0, y1, z}}};
}

vtkSmartPointer<vtkActor> quads_actor(const std::vector<Corners>& quads, Colour colour,
                                      const Point* seen_from) {
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    for (const Corners& quad : quads) {
        std::array<vtkIdType, 4> id{};
        for (int i = 0; i < 4; ++i) id[i] = points->InsertNextPoint(to_world(quad[i]).data());
        if (seen_from) {
            const Vector a = to_world(quad[0]);
            const Vector normal = cross(minus(to_world(quad[1]), a), minus(to_world(quad[2]), a));
            if (dot(normal, minus(to_world(*seen_from), a)) < 0) std::swap(id[1], id[3]);
        }
        cells->InsertNextCell(4, id.data());
    }
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetPolys(cells);
    auto actor = flat_actor(data, colour);
    if (seen_from) actor->GetProperty()->BackfaceCullingOn();
    return actor;
}

vtkSmartPointer<vtkActor> polygon_actor(const std::vector<Point>& corners, Colour colour,
                                        const Point& inward) {
    std::vector<Vector> world;
    for (const Point& p : corners) world.push_back(to_world(p));
    Vector normal{};  // by Newell: the sum over the edges holds for any flat polygon
    for (std::size_t i = 0; i < world.size(); ++i) {
        const Vector n = cross(world[i], world[(i + 1) % world.size()]);
        for (int a = 0; a < 3; ++a) normal[a] += n[a];
    }
    if (dot(normal, to_world(inward)) < 0) std::reverse(world.begin(), world.end());
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    cells->InsertNextCell(static_cast<int>(world.size()));
    for (const Vector& p : world) cells->InsertCellPoint(points->InsertNextPoint(p.data()));
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetPolys(cells);
    vtkNew<vtkTriangleFilter> triangles;  // the graphics card knows no hollow corners
    triangles->SetInputData(data);
    triangles->Update();
    auto actor = flat_actor(triangles->GetOutput(), colour);
    actor->GetProperty()->BackfaceCullingOn();
    return actor;
}

vtkSmartPointer<vtkActor> cuboid_actor(const Point& low, const Point& high, Colour colour,
                                       bool hollow) {
    vtkNew<vtkCubeSource> cube;
    cube->SetBounds(low.x, high.x, -high.y, -low.y, low.z, high.z);
    cube->Update();
    auto actor = flat_actor(cube->GetOutput(), colour);
    actor->GetProperty()->SetFrontfaceCulling(hollow);
    if (!hollow) {
        actor->GetProperty()->LightingOn();
        actor->GetProperty()->SetAmbient(0.45);
        actor->GetProperty()->SetDiffuse(0.55);
    }
    return actor;
}

vtkSmartPointer<vtkActor> lines_actor(const std::vector<std::pair<Point, Point>>& lines,
                                      Colour colour, double width) {
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    for (const auto& [from, to] : lines) {
        const vtkIdType id[2] = {points->InsertNextPoint(to_world(from).data()),
                                 points->InsertNextPoint(to_world(to).data())};
        cells->InsertNextCell(2, id);
    }
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetLines(cells);
    auto actor = flat_actor(data, colour);
    actor->GetProperty()->SetLineWidth(static_cast<float>(width));
    return actor;
}

std::vector<std::pair<Point, Point>> box_edges(const Point& a, const Point& b) {
    std::vector<std::pair<Point, Point>> edges;
    for (int i = 0; i < 4; ++i) {
        const bool u = i & 1, v = i & 2;
        const double x = u ? b.x : a.x, y = u ? b.y : a.y;
        const double y2 = v ? b.y : a.y, z2 = v ? b.z : a.z;
        edges.push_back({{a.x, y, z2}, {b.x, y, z2}});
        edges.push_back({{x, a.y, z2}, {x, b.y, z2}});
        edges.push_back({{x, y2, a.z}, {x, y2, b.z}});
    }
    return edges;
}

std::vector<std::pair<Point, Point>> circle(const Point& centre, const Vector& axis,
                                            double radius) {
    // Two directions across the axis: any that is not along it, made upright to it twice.
    const Vector other = std::abs(axis[2]) < 0.5 ? Vector{0, 0, 1} : Vector{1, 0, 0};
    const Vector u = cross(axis, other), v = cross(axis, u);
    const auto at = [&](int i) {
        constexpr int sides = 28;
        const double t = 2 * std::numbers::pi * i / sides;
        const double c = radius * std::cos(t), s = radius * std::sin(t);
        return Point{centre.x + c * u[0] + s * v[0], centre.y + c * u[1] + s * v[1],
                     centre.z + c * u[2] + s * v[2]};
    };
    std::vector<std::pair<Point, Point>> lines;
    for (int i = 0; i < 28; ++i) lines.push_back({at(i), at(i + 1)});
    return lines;
}

}  // namespace boxroom
