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

/// Space cut into equal cuboid cells, each air or not. Pressures live on the corners of the cells
/// (the nodes), so that the surfaces of the air run through nodes.
struct GridShape {
    std::array<int, 3> cells{};                    ///< along x, y, z
    std::array<double, 3> spacing{};               ///< [m]
    Point origin;                                  ///< of the first node [m]
    std::vector<std::uint8_t> air;                 ///< [(z * ny + y) * nx + x], 1 where air
    std::vector<GridSurface> surfaces;
    /// Index of the surface on the face of air cell (x, y, z) towards `direction` (-x +x -y +y -z
    /// +z), asked only where the neighbour is no air.
    std::function<int(int x, int y, int z, int direction)> surface;

    bool is_air(int x, int y, int z) const {
        return x >= 0 && y >= 0 && z >= 0 && x < cells[0] && y < cells[1] && z < cells[2] &&
               air[(static_cast<std::size_t>(z) * cells[1] + y) * cells[0] + x];
    }
    double air_volume() const;  ///< [m3]
};

/// A rectangle, spacing per axis the largest that fits exactly and is not above `spacing` [m].
GridShape grid_of_room(const Room& room, double spacing);

/// What nodes of one kind have in common. The dual volume of a node is the part of the cuboid
/// around it that is air; a link is the area of air between two nodes over their distance.
struct NodeKind {
    struct Patch {
        int surface;
        double area;  ///< [m2], scaled
    };
    double volume = 0;              ///< [m3]
    std::array<double, 6> link{};   ///< towards -x +x -y +y -z +z [m]
    std::vector<Patch> patches;     ///< the surfaces that the node touches
};

/// The nodes of a shape, by kind. Kind 0 is the node with air all round; -1 has no air.
/// Index = (z * node count y + y) * node count x + x.
struct GridNodes {
    std::array<int, 3> count{};
    std::vector<std::int16_t> kind_of;
    std::vector<NodeKind> kinds;
    std::size_t size() const { return kind_of.size(); }
};
GridNodes grid_nodes(const GridShape& shape);

}  // namespace boxroom
