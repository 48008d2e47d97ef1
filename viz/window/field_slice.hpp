#pragma once
#include <vtkLookupTable.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <deque>

#include "picture/scale.hpp"
#include "results/room_view.hpp"
#include "viz/canvas.hpp"
#include "viz/window/field_sheet.hpp"

namespace boxroom {

enum class FieldKind { level, pressure, none };

/// The field on a plane at ear height, and on the walls where it is known there: level in dB, or
/// the pressure at one moment of the period, with isolines every few dB (for the pressure: the line
/// of no pressure). One scale for all.
class FieldSlice {
  public:
    FieldSlice(vtkRenderer* room, vtkRenderer* walls);

    /// `phase` is the moment, 0 to 2 pi of the period; the level does not depend on it.
    void show(const FieldPlane& plane, const std::vector<FieldPlane>& walls, FieldKind kind,
              double phase);
    /// Draws it after everything that is in the renderer by now: it lets what lies under it shine
    /// through, and VTK's own way of sorting that out is too slow without a graphics card.
    void draw_last();

    const Scale& scale() const { return scale_; }
    Colour colour(double value) const;
    FieldKind kind() const { return kind_; }
    double step() const { return step_; }  ///< between isolines

  private:
    void set_scale(double largest);
    std::vector<double> isoline_levels() const;

    vtkRenderer *room_, *walls_;
    FieldKind kind_ = FieldKind::none;
    Scale scale_{0, 30, 5};
    double step_ = 3;
    vtkSmartPointer<vtkLookupTable> table_;
    FieldSheet plane_sheet_;
    std::deque<FieldSheet> wall_sheets_;
};

/// From blue (negative) over nearly white (none) to brown (positive), -1 to 1.
Colour pressure_colour(double position);

}  // namespace boxroom
