#include "viz/window/field_slice.hpp"

#include <vtkCellArray.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>

#include <algorithm>
#include <cmath>

#include "viz/colour_map.hpp"
#include "viz/isolines.hpp"
#include "viz/window/look.hpp"

namespace boxroom {
namespace {

constexpr int colours = 256;
constexpr double span_db = 30;  // from the loudest down

}  // namespace

Colour pressure_colour(double position) {
    const double t = std::clamp(position, -1.0, 1.0);
    const Colour none{248, 246, 240}, end = t < 0 ? Colour{30, 78, 140} : Colour{150, 72, 20};
    const auto mix = [&](int a, int b) {
        return static_cast<std::uint8_t>(std::lround(a + (b - a) * std::abs(t)));
    };
    return {mix(none.r, end.r), mix(none.g, end.g), mix(none.b, end.b)};
}

FieldSlice::FieldSlice(const RoomView& view, vtkRenderer* renderer)
    : renderer_(renderer), width_(view.width), length_(view.length) {
    surface_ = vtkSmartPointer<vtkPolyData>::New();
    lines_ = vtkSmartPointer<vtkPolyData>::New();
    value_ = vtkSmartPointer<vtkDoubleArray>::New();
    table_ = vtkSmartPointer<vtkLookupTable>::New();
    table_->SetNumberOfTableValues(colours);

    vtkNew<vtkPolyDataMapper> mapper;
    mapper->SetInputData(surface_);
    mapper->SetLookupTable(table_);
    mapper->UseLookupTableScalarRangeOn();
    mapper->InterpolateScalarsBeforeMappingOn();
    surface_actor_ = vtkSmartPointer<vtkActor>::New();
    surface_actor_->SetMapper(mapper);
    surface_actor_->GetProperty()->LightingOff();
    surface_actor_->GetProperty()->SetOpacity(0.82);
    surface_actor_->ForceOpaqueOn();  // blended as it comes, see draw_last()

    vtkNew<vtkPolyDataMapper> line_mapper;
    line_mapper->SetInputData(lines_);
    lines_actor_ = vtkSmartPointer<vtkActor>::New();
    lines_actor_->SetMapper(line_mapper);
    lines_actor_->GetProperty()->LightingOff();
    lines_actor_->GetProperty()->SetColor(look::rgb(look::ink).data());
    lines_actor_->GetProperty()->SetOpacity(0.7);
    lines_actor_->ForceOpaqueOn();
}

void FieldSlice::draw_last() {
    for (vtkActor* actor : {surface_actor_.Get(), lines_actor_.Get()}) {
        renderer_->RemoveActor(actor);
        renderer_->AddActor(actor);
    }
}

Colour FieldSlice::colour(double value) const {
    const double at = scale_.position(value);
    return kind_ == FieldKind::pressure ? pressure_colour(2 * at - 1) : map_colour(at);
}

/// The grid of points, made anew only where its shape or height changed.
void FieldSlice::lay_out(const FieldPlane& plane) {
    if (plane.nx == nx_ && plane.ny == ny_ && plane.height == height_) return;
    nx_ = plane.nx, ny_ = plane.ny, height_ = plane.height;
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    for (int y = 0; y < ny_; ++y)
        for (int x = 0; x < nx_; ++x)
            points->InsertNextPoint(width_ * x / (nx_ - 1), -length_ * y / (ny_ - 1), height_);
    for (int y = 0; y + 1 < ny_; ++y)
        for (int x = 0; x + 1 < nx_; ++x) {
            const vtkIdType first = y * nx_ + x;
            const vtkIdType corner[4] = {first, first + 1, first + 1 + nx_, first + nx_};
            cells->InsertNextCell(4, corner);
        }
    surface_->SetPoints(points);
    surface_->SetPolys(cells);
    value_->SetNumberOfTuples(nx_ * ny_);
    surface_->GetPointData()->SetScalars(value_);
}

void FieldSlice::show(const FieldPlane& plane, FieldKind kind, double phase) {
    const bool visible = kind != FieldKind::none && plane.nx > 1 && plane.ny > 1;
    kind_ = kind;
    surface_actor_->SetVisibility(visible);
    lines_actor_->SetVisibility(visible);
    if (!visible) return;
    lay_out(plane);

    FloorMap map;
    map.nx = nx_, map.ny = ny_;
    map.dx = width_ / (nx_ - 1), map.dy = length_ / (ny_ - 1);
    map.valid.assign(plane.pressure.size(), 1);
    double largest = 1e-20;
    for (const std::complex<float>& p : plane.pressure) {
        largest = std::max(largest, static_cast<double>(std::abs(p)));
        const std::complex<double> moment(std::cos(phase), std::sin(phase));
        map.value.push_back(kind == FieldKind::level
                                ? 20 * std::log10(std::max(1e-20, double(std::abs(p))) / 20e-6)
                                : std::sqrt(2.0) * (std::complex<double>(p) * moment).real());
    }
    if (kind == FieldKind::level) {
        // The scale moves in steps, so that colours keep their meaning while a box is dragged.
        step_ = 3;
        const double high = step_ * std::ceil(20 * std::log10(largest / 20e-6) / step_);
        scale_ = {high - span_db, high, 2 * step_};
    } else {
        // Amplitudes are RMS, so the peak of a swing is sqrt(2) higher.
        const double step = round_step(std::sqrt(0.5) * largest);
        scale_ = {-2 * step, 2 * step, step};
    }
    for (vtkIdType i = 0; i < nx_ * ny_; ++i) value_->SetValue(i, map.value[i]);
    value_->Modified();
    surface_->Modified();
    table_->SetTableRange(scale_.low, scale_.high);
    for (int i = 0; i < colours; ++i) {
        const auto c =
            look::rgb(colour(scale_.low + (scale_.high - scale_.low) * i / (colours - 1)));
        table_->SetTableValue(i, c[0], c[1], c[2], 1);
    }
    draw_isolines(map, plane.height);
}

void FieldSlice::draw_isolines(const FloorMap& map, double height) {
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    std::vector<double> levels;
    if (kind_ == FieldKind::pressure)
        levels.push_back(0);
    else
        for (double l = scale_.low + step_; l < scale_.high - step_ / 2; l += step_)
            levels.push_back(l);
    for (double level : levels) {
        for (const Isoline& line : isolines(map, level)) {
            cells->InsertNextCell(static_cast<int>(line.size()));
            for (const GridPoint& p : line)
                cells->InsertCellPoint(
                    points->InsertNextPoint(p.x * map.dx, -p.y * map.dy, height + 0.006));
        }
    }
    lines_->SetPoints(points);
    lines_->SetLines(cells);
    lines_->Modified();
}

}  // namespace boxroom
