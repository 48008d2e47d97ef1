#pragma once
#include <array>
#include <vector>

#include "solvers/mesh_options.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// One quadrilateral of the floor: corners going round to the left, degree of the polynomials along
/// its first and its second side. Corner 3 equal to corner 2: a triangle, whose side between the
/// two is a point.
struct FootprintCell {
    std::array<int, 4> corner{};
    std::array<int, 2> degree{};
};

/// Quadrilaterals that lie on every edge of the outline, of blocks, openings, passages and spaces.
/// They cover more than the air; what is air is told a cell and a layer.
struct Footprint {
    std::vector<Point> vertex;  ///< z unused
    std::vector<FootprintCell> cell;
};

/// A room in hexahedral elements: each footprint cell once a layer that is air there.
///
/// Unknowns are pressures at Gauss-Lobatto points, those of two elements the same where air passes
/// between them: within the room, within a space, and through openings. What touches without an
/// opening does not share them, so a wall without thickness is a wall.
struct ElementMesh {
    static constexpr int room_region = 0;  ///< 1 + n: space n; below 0: a passage
    struct Element {
        int cell = 0, layer = 0, region = 0;
        std::vector<int> unknown;  ///< [(z * ny + y) * nx + x]
    };
    /// A side of an element that is a wall: 0 .. 3 from corner n to n + 1, 4 below, 5 above.
    struct Face {
        int element = 0, side = 0, surface = 0;
    };
    Footprint footprint;
    std::vector<double> level;      ///< heights between layers [m]
    std::vector<int> level_degree;  ///< of each layer
    std::vector<Element> element;
    std::vector<Face> face;
    int surfaces = 0;  ///< that a Face::surface counts: see surface_walls
    int unknowns = 0;

    /// Points along the two sides of the element's cell and up.
    std::array<int, 3> points(const Element& e) const;
    /// The element's unknowns on one side, in the order in which the neighbour across has them.
    std::vector<int> on_side(const Element& e, int side) const;
    Point centre(const Element& e) const;
};

/// What a Face::surface stands for, in this order: the edges of the plan, or left, right, front,
/// back; floor, ceiling; each block; the six walls of each space; each opening (to the open air).
std::vector<Wall> surface_walls(const Room& room, const Air& air);

/// Throws Error for an opening that leads nowhere and for a room that asks for too many elements.
ElementMesh mesh_of(const Room& room, const MeshOptions& options);

}  // namespace boxroom
