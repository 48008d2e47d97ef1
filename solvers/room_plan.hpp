#pragma once
#include <cmath>
#include <string>
#include <vector>

#include "base/point.hpp"
#include "solvers/wall.hpp"

namespace boxroom {

/// A uniform surface with its name and what the file says it is made of.
struct NamedWall {
    std::string name;
    Wall wall;
    std::string description;
};

/// A cuboid that is no air: furniture, a pillar, a chimney breast.
struct Block {
    std::string name;
    Point from, to;
    NamedWall surface;
};

/// A neighbouring room: a cuboid of air in the same coordinates, joined by openings alone.
struct Space {
    std::string name;
    Point from, to;
    std::vector<NamedWall> walls;  ///< in the order of WallIndex
};

/// A hole in a wall: a flat rectangle on the outline, the floor or the ceiling.
struct Opening {
    std::string name;
    Point from, to;  ///< equal in one coordinate
    int space = -1;       ///< index of the space it leads to; -1: outside
    bool either = false;  ///< open on some days, shut on others (placement/room_states)
    int axis() const { return from.x == to.x ? 0 : from.y == to.y ? 1 : 2; }
    double area() const;
};

/// What makes a room more than a rectangle with six walls. Empty for a rectangle.
struct RoomPlan {
    std::vector<Point> outline;    ///< corners in order, z unused; empty: the rectangle
    std::vector<NamedWall> edges;  ///< edge n runs from corner n to corner n + 1
    std::vector<Block> blocks;
    std::vector<Space> spaces;
    std::vector<Opening> openings;

    bool empty() const {
        return outline.empty() && blocks.empty() && spaces.empty() && openings.empty();
    }
    /// True if the floor at (x, y) is inside the outline or on it (true without an outline).
    bool covers(double x, double y) const;
    /// True if no block lower than `top` reaches into the rectangle, and no edge of the outline
    /// comes nearer to it than `gap`.
    bool free_floor(double x0, double y0, double x1, double y1, double top, double gap = 0) const;
    const Block* block_at(const Point& p) const;  ///< that p is inside of (not on), or null
};

/// The outward side of an opening to the open air: the radiation of a piston in a wall, a mass
/// M = 8 rho a/(3 pi) beside a resistance 128/(9 pi^2) rho c with a = sqrt(S/pi). Exact for small
/// ka, where Re z = rho c (ka)^2/2 (Beranek, Acoustics, 1954, sec. 5.3; from memory).
Wall open_air(double area, const Air& air);

/// Area inside the outline [m2], positive where it goes round from x towards y: the sum of
/// (x_i y_i+1 - x_i+1 y_i)/2, the trapezium rule of any handbook of surveying.
double signed_area(const std::vector<Point>& outline);
inline double outline_area(const std::vector<Point>& outline) {
    return std::abs(signed_area(outline));
}
/// Indices of two edges that cross or touch where they should not, or {-1, -1}.
std::pair<int, int> crossing_edges(const std::vector<Point>& outline);

/// Takes away the spaces that no opening leads to.
void keep_joined(RoomPlan& plan);

}  // namespace boxroom
