#pragma once
#include <vtkActor.h>
#include <vtkDoubleArray.h>
#include <vtkLookupTable.h>
#include <vtkPolyData.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include "results/floor_map.hpp"
#include "results/room_view.hpp"
#include "viz/canvas.hpp"
#include "viz/scale.hpp"

namespace boxroom {

enum class FieldKind { level, pressure, none };

/// The field on a plane at ear height: level in dB, or the pressure at one moment of the period,
/// with isolines every few dB (for the pressure: the line of no pressure).
class FieldSlice {
  public:
    FieldSlice(const RoomView& view, vtkRenderer* renderer);

    /// `phase` is the moment, 0 to 2 pi of the period; the level does not depend on it.
    void show(const FieldPlane& plane, FieldKind kind, double phase);
    /// Draws it after everything that is in the renderer by now: it lets what lies under it shine
    /// through, and VTK's own way of sorting that out is too slow without a graphics card.
    void draw_last();

    const Scale& scale() const { return scale_; }
    Colour colour(double value) const;
    FieldKind kind() const { return kind_; }
    double step() const { return step_; }  ///< between isolines

  private:
    void lay_out(const FieldPlane& plane);
    void draw_isolines(const FloorMap& map, double height);

    vtkRenderer* renderer_;
    double width_, length_;
    FieldKind kind_ = FieldKind::none;
    Scale scale_{0, 30, 5};
    double step_ = 3;
    int nx_ = 0, ny_ = 0;
    double height_ = -1;
    vtkSmartPointer<vtkPolyData> surface_, lines_;
    vtkSmartPointer<vtkDoubleArray> value_;
    vtkSmartPointer<vtkLookupTable> table_;
    vtkSmartPointer<vtkActor> surface_actor_, lines_actor_;
};

/// From blue (negative) over nearly white (none) to brown (positive), -1 to 1.
Colour pressure_colour(double position);

}  // namespace boxroom
