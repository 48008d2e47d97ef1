#include "viz/window/field_sheet.hpp"

#include <vtkCellArray.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>

#include <cmath>

#include "picture/isolines.hpp"
#include "results/floor_map.hpp"
#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

bool same_place(const FieldPlane& a, const FieldPlane& b) {
    return a.nu == b.nu && a.nv == b.nv && a.corner == b.corner && a.along_u == b.along_u &&
           a.along_v == b.along_v && a.outside == b.outside;
}

/// The direction from which v is left of u, of length one, in the room's (left-handed) axes.
Point normal(const FieldPlane& plane) {
    const Point &u = plane.along_u, &v = plane.along_v;
    const Point n{v.y * u.z - v.z * u.y, v.z * u.x - v.x * u.z, v.x * u.y - v.y * u.x};
    const double length = std::hypot(n.x, n.y, n.z);
    return {n.x / length, n.y / length, n.z / length};
}

Point lifted(const FieldPlane& plane, double u, double v, const Point& n, double by) {
    const Point p = plane.at(u, v);
    return {p.x + by * n.x, p.y + by * n.y, p.z + by * n.z};
}

/// The plane as the map that isolines are drawn for: one unit from point to point.
FloorMap as_map(const FieldPlane& plane, const std::vector<double>& value) {
    FloorMap map;
    map.nx = plane.nu, map.ny = plane.nv;
    map.dx = map.dy = 1;
    map.value = value;
    map.valid.assign(value.size(), plane.outside.empty());
    if (plane.outside.empty()) return map;
    for (int v = 0; v + 1 < plane.nv; ++v)
        for (int u = 0; u + 1 < plane.nu; ++u) {
            if (plane.outside[v * (plane.nu - 1) + u]) continue;
            for (const int corner : {0, 1, plane.nu, plane.nu + 1})
                map.valid[v * plane.nu + u + corner] = 1;
        }
    return map;
}

}  // namespace

bool FieldSheet::faces(const FieldPlane& plane, const Point& eye) {
    const Point n = normal(plane), &c = plane.corner;
    return n.x * (eye.x - c.x) + n.y * (eye.y - c.y) + n.z * (eye.z - c.z) > 0;
}

FieldSheet::FieldSheet(vtkLookupTable* table, double opacity, double sheet_lift, double line_lift)
    : sheet_lift_(sheet_lift), line_lift_(line_lift) {
    surface_ = vtkSmartPointer<vtkPolyData>::New();
    lines_ = vtkSmartPointer<vtkPolyData>::New();
    value_ = vtkSmartPointer<vtkDoubleArray>::New();

    vtkNew<vtkPolyDataMapper> mapper;
    mapper->SetInputData(surface_);
    mapper->SetLookupTable(table);
    mapper->UseLookupTableScalarRangeOn();
    mapper->InterpolateScalarsBeforeMappingOn();
    surface_actor_ = vtkSmartPointer<vtkActor>::New();
    surface_actor_->SetMapper(mapper);
    surface_actor_->GetProperty()->LightingOff();
    surface_actor_->GetProperty()->SetOpacity(opacity);
    surface_actor_->ForceOpaqueOn();  // blended as it comes, see FieldSlice::draw_last()

    vtkNew<vtkPolyDataMapper> line_mapper;
    line_mapper->SetInputData(lines_);
    lines_actor_ = vtkSmartPointer<vtkActor>::New();
    lines_actor_->SetMapper(line_mapper);
    lines_actor_->GetProperty()->LightingOff();
    lines_actor_->GetProperty()->SetColor(look::rgb(look::ink).data());
    lines_actor_->GetProperty()->SetOpacity(0.7);
    lines_actor_->ForceOpaqueOn();
    hide();
}

void FieldSheet::hide() {
    surface_actor_->VisibilityOff();
    lines_actor_->VisibilityOff();
}

void FieldSheet::draw_last(vtkRenderer* renderer) {
    for (vtkActor* actor : {surface_actor_.Get(), lines_actor_.Get()}) {
        renderer->RemoveActor(actor);
        renderer->AddActor(actor);
    }
}

/// The grid of points, made anew only where its shape or place changed.
void FieldSheet::lay_out(const FieldPlane& plane) {
    if (same_place(plane, laid_out_)) return;
    laid_out_ = plane;
    laid_out_.pressure.clear();
    const Point n = normal(plane);
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    for (int v = 0; v < plane.nv; ++v)
        for (int u = 0; u < plane.nu; ++u)
            points->InsertNextPoint(
                to_world(lifted(plane, u / (plane.nu - 1.0), v / (plane.nv - 1.0), n, sheet_lift_))
                    .data());
    for (int v = 0; v + 1 < plane.nv; ++v)
        for (int u = 0; u + 1 < plane.nu; ++u) {
            if (!plane.outside.empty() && plane.outside[v * (plane.nu - 1) + u]) continue;
            const vtkIdType first = v * plane.nu + u;
            const vtkIdType corner[4] = {first, first + 1, first + 1 + plane.nu, first + plane.nu};
            cells->InsertNextCell(4, corner);
        }
    surface_->SetPoints(points);
    surface_->SetPolys(cells);
    value_->SetNumberOfTuples(vtkIdType(plane.nu) * plane.nv);
    surface_->GetPointData()->SetScalars(value_);
}

void FieldSheet::show(const FieldPlane& plane, const std::vector<double>& value,
                      const std::vector<double>& isoline_levels) {
    lay_out(plane);
    for (std::size_t i = 0; i < value.size(); ++i) value_->SetValue(vtkIdType(i), value[i]);
    value_->Modified();
    surface_->Modified();
    draw_isolines(plane, value, isoline_levels);
    surface_actor_->VisibilityOn();
    lines_actor_->VisibilityOn();
}

void FieldSheet::draw_isolines(const FieldPlane& plane, const std::vector<double>& value,
                               const std::vector<double>& levels) {
    const FloorMap map = as_map(plane, value);
    const Point n = normal(plane);
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    for (const double level : levels)
        for (const Isoline& line : isolines(map, level)) {
            cells->InsertNextCell(static_cast<int>(line.size()));
            for (const GridPoint& g : line)
                cells->InsertCellPoint(
                    points->InsertNextPoint(to_world(lifted(plane, g.x / (plane.nu - 1),
                                                            g.y / (plane.nv - 1), n, line_lift_))
                                                .data()));
        }
    lines_->SetPoints(points);
    lines_->SetLines(cells);
    lines_->Modified();
}

}  // namespace boxroom
