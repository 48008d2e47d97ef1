#pragma once
#include <vtkActor.h>
#include <vtkSmartPointer.h>

#include <array>
#include <utility>
#include <vector>

#include "base/point.hpp"
#include "viz/canvas.hpp"

namespace boxroom {

/// The room's axes (x right, y from the front wall, z up) are left-handed; VTK's are right-handed.
/// So y is turned round, else the room would stand there mirrored.
inline std::array<double, 3> to_world(const Point& p) {
    return {p.x, -p.y, p.z};
}
inline Point from_world(const double* p) {
    return {p[0], -p[1], p[2]};
}

using Corners = std::array<Point, 4>;  ///< in order round the quadrilateral
/// The four corners of an upright or level rectangle between two opposite points.
Corners level_rectangle(double x0, double y0, double x1, double y1, double z);

/// Flat quadrilaterals without shading. `seen_from` (a point) hides them from the other side.
vtkSmartPointer<vtkActor> quads_actor(const std::vector<Corners>& quads, Colour colour,
                                      const Point* seen_from = nullptr);
/// A flat polygon, any shape, without shading, seen only from the side that `inward` points to.
vtkSmartPointer<vtkActor> polygon_actor(const std::vector<Point>& corners, Colour colour,
                                        const Point& inward);
/// A cuboid without shading. `hollow`: only the faces turned away from the eye are seen, so that it
/// hides nothing.
vtkSmartPointer<vtkActor> cuboid_actor(const Point& low, const Point& high, Colour colour,
                                       bool hollow);
vtkSmartPointer<vtkActor> lines_actor(const std::vector<std::pair<Point, Point>>& lines,
                                      Colour colour, double width);
/// The twelve edges of a box.
std::vector<std::pair<Point, Point>> box_edges(const Point& low, const Point& high);
/// A circle as a polygon of lines round `axis`.
std::vector<std::pair<Point, Point>> circle(const Point& centre, const std::array<double, 3>& axis,
                                            double radius);

}  // namespace boxroom
