#pragma once
#include <vector>

#include "solvers/element_mesh.hpp"

/// Where the lines of an element mesh run; not for use outside of it.
namespace boxroom::element_parts {

/// An edge round which air turns, on a line at `at`: along the line from low to high [m].
struct EdgeOnLine {
    double at = 0, low = 0, high = 0;
};

/// Lines across one axis, and the polynomials' degree between each two.
struct AxisLines {
    std::vector<double> at;
    std::vector<double> beside;  ///< of a line that ends a layer, the edge's line; else itself
    std::vector<int> degree;
    std::vector<EdgeOnLine> edge;
};

/// A passage through a wall: the cuboid between an opening and its space.
struct Passage {
    Point from, to;
    int axis = 0;
    int space = 0;
    int opening = 0;
};
/// Those of every opening that leads to a space. Throws Error for one that leads nowhere: its space
/// must lie behind it within 1 m.
std::vector<Passage> passages(const Room& room);

/// Lines on all that is level: floor, ceiling, blocks, openings, spaces.
AxisLines levels_of(const Room& room, const MeshOptions& options);
/// Cells between the lines across x and across y where every wall follows an axis: rectangles but
/// where a layer ends. Else triangles.
Footprint footprint_of(const Room& room, const MeshOptions& options);

/// Triangles whose sides lie on all `segments`, none longer than about `longest` [m]; sides meet
/// only in corners. Throws Error where segments come so near to each other that it would take
/// too many.
struct Segment {
    Point from, to;
};
Footprint triangles_on(const std::vector<Segment>& segments, double longest, int degree);

double longest_element(const MeshOptions& options);
/// Least degree that is as true on a side of that length as degree 5 on the longest.
int degree_for(double length, const MeshOptions& options);

}  // namespace boxroom::element_parts
