#pragma once
#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "base/point.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// One uniform surface of a grid. `area_scale` corrects the area of a staircase to the true one.
struct GridSurface {
    Wall wall;
    double area_scale = 1;
};

/// What fills a cell; the contents of a room (solvers/contents.hpp) are among the air of the room
/// alone, not of the spaces next door.
enum CellKind : std::uint8_t { solid_cell, air_cell, contents_cell };

/// Space cut into equal cuboid cells, each air or not. Pressures live on the corners of the cells
/// (the nodes), so that the surfaces of the air run through nodes.
struct GridShape {
    std::array<int, 3> cells{};       ///< along x, y, z
    std::array<double, 3> spacing{};  ///< [m]
    Point origin;                     ///< of the first node [m]
    std::vector<std::uint8_t> air;    ///< [(z * ny + y) * nx + x], a CellKind
    std::vector<GridSurface> surfaces;
    /// Index of the surface on the face of air cell (x, y, z) towards `direction` (-x +x -y +y -z
    /// +z), asked only where the neighbour is no air.
    std::function<int(int x, int y, int z, int direction)> surface;
    Contents contents;           ///< of the contents_cells
    double contents_volume = 0;  ///< of the room, over which they count [m3]

    CellKind cell(int x, int y, int z) const {
        const bool inside =
            x >= 0 && y >= 0 && z >= 0 && x < cells[0] && y < cells[1] && z < cells[2];
        return inside ? static_cast<CellKind>(
                            air[(static_cast<std::size_t>(z) * cells[1] + y) * cells[0] + x])
                      : solid_cell;
    }
    bool is_air(int x, int y, int z) const { return cell(x, y, z) != solid_cell; }
    double air_volume() const;  ///< [m3]
};

/// A rectangle, spacing per axis the largest that fits exactly and is not above `spacing` [m].
GridShape grid_of_room(const Room& room, double spacing);

/// Which neighbours a node is linked to.
///
/// Seven points: the six along the axes. Their error, (h^2/12) sum_a d^4/da^4, depends on the
/// direction of the wave. Nineteen points: also the twelve across the cells' faces, with the weight
/// that turns the error into (h^2/12) nabla^2 nabla^2, alike in all directions (the isotropic
/// member of the family in Kowalczyk & van Walstijn 2011), so that the choice of frequency in
/// grid_transfer takes it out. The time step may be 3/2 times as long.
enum class Stencil { seven_points, nineteen_points };

/// What nodes of one kind have in common. The dual volume of a node is the part of the cuboid
/// around it that is air; a link is the area of air between two nodes over their distance.
struct NodeKind {
    struct Patch {
        int surface;
        double area;  ///< [m2], scaled
    };
    double volume = 0;               ///< [m3]
    std::array<double, 18> link{};   ///< towards link_step [m]
    std::array<double, 18> among{};  ///< the part of each link that runs through contents [m]
    bool inner = false;              ///< air of one sort all round
    std::vector<Patch> patches;      ///< the surfaces that the node touches
};
/// The neighbour of each link, in nodes along x, y, z. Even and odd ones are opposite.
inline constexpr int link_step[18][3] = {
    {-1, 0, 0},  {1, 0, 0}, {0, -1, 0}, {0, 1, 0},  {0, 0, -1}, {0, 0, 1},  // along the axes
    {-1, -1, 0}, {1, 1, 0}, {1, -1, 0}, {-1, 1, 0},                         // across xy
    {-1, 0, -1}, {1, 0, 1}, {1, 0, -1}, {-1, 0, 1},                         // across xz
    {0, -1, -1}, {0, 1, 1}, {0, 1, -1}, {0, -1, 1}};                        // across yz

/// The nodes of a shape, by kind; -1 has no air.
/// Index = (z * node count y + y) * node count x + x.
struct GridNodes {
    Stencil stencil = Stencil::seven_points;
    std::array<int, 3> count{};
    std::vector<std::int16_t> kind_of;
    std::vector<NodeKind> kinds;
    std::size_t size() const { return kind_of.size(); }
};
GridNodes grid_nodes(const GridShape& shape, Stencil stencil);

/// The longest stable time step [s]: c T <= 1/sqrt(sum 1/h_a^2) for seven points and
/// sqrt(1.5/max_ab(1/h_a^2 + 1/h_b^2)) for nineteen. It holds cell by cell, hence for any shape.
/// Contents shorten it by a hair (solvers/grid_contents.hpp).
double longest_time_step(const GridShape& shape, Stencil stencil, const Air& air);

}  // namespace boxroom
