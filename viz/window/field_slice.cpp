#include "viz/window/field_slice.hpp"

#include <vtkCamera.h>

#include <algorithm>
#include <cmath>

#include "base/levels.hpp"
#include "picture/colour_map.hpp"
#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

constexpr int colours = 256;
constexpr double span_db = 30;  // from the loudest down

vtkSmartPointer<vtkLookupTable> empty_table() {
    auto table = vtkSmartPointer<vtkLookupTable>::New();
    table->SetNumberOfTableValues(colours);
    return table;
}

std::vector<double> values(const FieldPlane& plane, FieldKind kind, double phase) {
    const std::complex<double> moment(std::cos(phase), std::sin(phase));
    std::vector<double> out;
    out.reserve(plane.pressure.size());
    for (const std::complex<float>& p : plane.pressure)
        out.push_back(kind == FieldKind::level
                          ? level_db(std::norm(std::complex<double>(p)))
                          : std::sqrt(2.0) * (std::complex<double>(p) * moment).real());
    return out;
}

double largest_pressure(const FieldPlane& plane) {
    double largest = 1e-20;
    for (const std::complex<float>& p : plane.pressure)
        largest = std::max(largest, static_cast<double>(std::abs(p)));
    return largest;
}

bool drawable(const FieldPlane& plane) {
    return plane.nu > 1 && plane.nv > 1;
}

}  // namespace

Colour pressure_colour(double position) {
    const double t = std::clamp(position, -1.0, 1.0);
    const Colour none{248, 246, 240}, end = t < 0 ? Colour{30, 78, 140} : Colour{150, 72, 20};
    const auto mix = [&](int a, int b) {
        return static_cast<std::uint8_t>(std::lround(a + (b - a) * std::abs(t)));
    };
    return {mix(none.r, end.r), mix(none.g, end.g), mix(none.b, end.b)};
}

FieldSlice::FieldSlice(vtkRenderer* room, vtkRenderer* walls)
    : room_(room), walls_(walls), table_(empty_table()), plane_sheet_(table_, 0.82, 0, -0.006) {}

void FieldSlice::draw_last() {
    plane_sheet_.draw_last(room_);
}

Colour FieldSlice::colour(double value) const {
    const double at = scale_.position(value);
    return kind_ == FieldKind::pressure ? pressure_colour(2 * at - 1) : map_colour(at);
}

void FieldSlice::set_scale(double largest) {
    if (kind_ == FieldKind::level) {
        // The scale moves in steps, so that colours keep their meaning while a box is dragged.
        step_ = 3;
        const double high = step_ * std::ceil(level_db(largest * largest) / step_);
        scale_ = {high - span_db, high, 2 * step_};
    } else {
        // Amplitudes are RMS, so the peak of a swing is sqrt(2) higher.
        const double step = round_step(std::sqrt(0.5) * largest);
        scale_ = {-2 * step, 2 * step, step};
    }
    table_->SetTableRange(scale_.low, scale_.high);
    for (int i = 0; i < colours; ++i) {
        const auto c =
            look::rgb(colour(scale_.low + (scale_.high - scale_.low) * i / (colours - 1)));
        table_->SetTableValue(i, c[0], c[1], c[2], 1);
    }
}

std::vector<double> FieldSlice::isoline_levels() const {
    if (kind_ == FieldKind::pressure) return {0};
    std::vector<double> levels;
    for (double l = scale_.low + step_; l < scale_.high - step_ / 2; l += step_)
        levels.push_back(l);
    return levels;
}

void FieldSlice::show(const FieldPlane& plane, const std::vector<FieldPlane>& walls, FieldKind kind,
                      double phase) {
    kind_ = kind;
    plane_sheet_.hide();
    for (FieldSheet& sheet : wall_sheets_) sheet.hide();
    if (kind == FieldKind::none || !drawable(plane)) return;
    set_scale(largest_pressure(plane));
    const std::vector<double> levels = isoline_levels();
    plane_sheet_.show(plane, values(plane, kind, phase), levels);
    const Point eye = from_world(walls_->GetActiveCamera()->GetPosition());
    for (std::size_t i = 0; i < walls.size(); ++i) {
        if (i == wall_sheets_.size()) {
            wall_sheets_.emplace_back(table_, 1, 0.012, 0.02);
            wall_sheets_.back().draw_last(walls_);
        }
        // Like the walls, it is seen from inside only.
        if (drawable(walls[i]) && FieldSheet::faces(walls[i], eye))
            wall_sheets_[i].show(walls[i], values(walls[i], kind, phase), levels);
    }
}

}  // namespace boxroom
