#pragma once
#include <vtkActor2D.h>
#include <vtkPolyData.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include "viz/canvas.hpp"

namespace boxroom {

/// Flat rectangles in window pixels (y upwards), set anew for every frame: the colour bar, keys to
/// lines and walls, the paper behind a list.
class Patches {
  public:
    explicit Patches(vtkRenderer* renderer);
    void begin();
    void put(const Rectangle& where, Colour colour, double opacity = 1);
    void end();

  private:
    vtkSmartPointer<vtkPolyData> data_;
};

}  // namespace boxroom
