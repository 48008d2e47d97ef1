#pragma once
#include <vtkActor.h>
#include <vtkDoubleArray.h>
#include <vtkLookupTable.h>
#include <vtkPolyData.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <vector>

#include "results/room_view.hpp"

namespace boxroom {

/// One rectangle of the field as a coloured sheet with isolines.
class FieldSheet {
  public:
    /// The sheet and its isolines are moved off the plane towards the side from which v is left of
    /// u [m], so that they are not lost in a wall that lies there.
    FieldSheet(vtkLookupTable* table, double opacity, double sheet_lift, double line_lift);

    /// Whether somebody at `eye` sees the side from which v is left of u.
    static bool faces(const FieldPlane& plane, const Point& eye);
    /// `value` has one number a point of the plane; the table's range is set by the owner.
    void show(const FieldPlane& plane, const std::vector<double>& value,
              const std::vector<double>& isoline_levels);
    void hide();
    /// Takes its actors out of the renderer and adds them again: it is then drawn last.
    void draw_last(vtkRenderer* renderer);

  private:
    void lay_out(const FieldPlane& plane);
    void draw_isolines(const FieldPlane& plane, const std::vector<double>& value,
                       const std::vector<double>& levels);

    double sheet_lift_, line_lift_;
    FieldPlane laid_out_;  ///< the plane the points were made for, without its pressures
    vtkSmartPointer<vtkPolyData> surface_, lines_;
    vtkSmartPointer<vtkDoubleArray> value_;
    vtkSmartPointer<vtkActor> surface_actor_, lines_actor_;
};

}  // namespace boxroom
