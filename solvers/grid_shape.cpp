#include "solvers/grid_shape.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.hpp"

namespace boxroom {
namespace {

constexpr int step_of[6][3] = {{-1, 0, 0}, {1, 0, 0}, {0, -1, 0}, {0, 1, 0}, {0, 0, -1}, {0, 0, 1}};

void add_patch(NodeKind& kind, int surface, double area) {
    for (NodeKind::Patch& patch : kind.patches)
        if (patch.surface == surface) {
            patch.area += area;
            return;
        }
    kind.patches.push_back({surface, area});
}

/// The kind of the node at (x, y, z): each of the eight cells around it that is air gives an eighth
/// of a cell, a quarter of the link along its three edges here, and a quarter of each bare face.
NodeKind kind_at(const GridShape& shape, int x, int y, int z) {
    const auto& h = shape.spacing;
    const double cell = h[0] * h[1] * h[2];
    NodeKind kind;
    for (int corner = 0; corner < 8; ++corner) {
        const int side[3] = {corner & 1, corner >> 1 & 1, corner >> 2};
        const int at[3] = {x - 1 + side[0], y - 1 + side[1], z - 1 + side[2]};
        if (!shape.is_air(at[0], at[1], at[2])) continue;
        kind.volume += cell / 8;
        for (int axis = 0; axis < 3; ++axis) {
            kind.link[2 * axis + side[axis]] += cell / (h[axis] * h[axis]) / 4;
            // The cell's face through this node looks back across the node.
            const int direction = 2 * axis + 1 - side[axis];
            const int* step = step_of[direction];
            if (shape.is_air(at[0] + step[0], at[1] + step[1], at[2] + step[2])) continue;
            const int surface = shape.surface(at[0], at[1], at[2], direction);
            add_patch(kind, surface,
                      shape.surfaces[surface].area_scale * cell / h[axis] / 4);
        }
    }
    std::sort(kind.patches.begin(), kind.patches.end(),
              [](const auto& a, const auto& b) { return a.surface < b.surface; });
    return kind;
}

bool air_all_round(const GridShape& shape, int x, int y, int z) {
    for (int corner = 0; corner < 8; ++corner)
        if (!shape.is_air(x - (corner & 1), y - (corner >> 1 & 1), z - (corner >> 2)))
            return false;
    return true;
}

/// Kinds are the same if all their numbers are; areas come in eighths, so rounding is safe.
std::vector<long long> key_of(const NodeKind& kind, double cell) {
    std::vector<long long> key{std::llround(kind.volume / cell * 8)};
    for (double link : kind.link) key.push_back(std::llround(link * 1e9));
    for (const auto& patch : kind.patches) {
        key.push_back(patch.surface);
        key.push_back(std::llround(patch.area * 1e9));
    }
    return key;
}

}  // namespace

double GridShape::air_volume() const {
    return std::count(air.begin(), air.end(), 1) * spacing[0] * spacing[1] * spacing[2];
}

GridShape grid_of_room(const Room& room, double spacing) {
    GridShape shape;
    const double side[3] = {room.width, room.length, room.height};
    std::size_t cells = 1;
    for (int axis = 0; axis < 3; ++axis) {
        shape.cells[axis] =
            std::max(4, static_cast<int>(std::ceil(side[axis] / spacing * (1 - 1e-9))));
        shape.spacing[axis] = side[axis] / shape.cells[axis];
        cells *= shape.cells[axis];
    }
    shape.air.assign(cells, 1);
    for (const Wall& wall : room.walls) shape.surfaces.push_back({wall, 1});
    shape.surface = [](int, int, int, int direction) { return direction; };
    return shape;
}

GridNodes grid_nodes(const GridShape& shape) {
    GridNodes nodes;
    for (int axis = 0; axis < 3; ++axis) nodes.count[axis] = shape.cells[axis] + 1;
    const auto& n = nodes.count;
    nodes.kind_of.assign(static_cast<std::size_t>(n[0]) * n[1] * n[2], -1);
    const auto& h = shape.spacing;
    const double cell = h[0] * h[1] * h[2];
    NodeKind inner;
    inner.volume = cell;
    for (int axis = 0; axis < 3; ++axis)
        inner.link[2 * axis] = inner.link[2 * axis + 1] = cell / (h[axis] * h[axis]);
    nodes.kinds.push_back(inner);
    std::map<std::vector<long long>, int> known;
    for (int z = 0; z < n[2]; ++z)
        for (int y = 0; y < n[1]; ++y)
            for (int x = 0; x < n[0]; ++x) {
                auto& kind = nodes.kind_of[(static_cast<std::size_t>(z) * n[1] + y) * n[0] + x];
                if (air_all_round(shape, x, y, z)) {
                    kind = 0;
                    continue;
                }
                NodeKind found = kind_at(shape, x, y, z);
                if (found.volume == 0) continue;
                const auto [entry, fresh] =
                    known.try_emplace(key_of(found, cell), static_cast<int>(nodes.kinds.size()));
                if (fresh) nodes.kinds.push_back(std::move(found));
                kind = static_cast<std::int16_t>(entry->second);
            }
    if (nodes.kinds.size() > 30000)
        throw Error("grid solver", "the room has too many different corners for this solver",
                    "simplify the floor plan");
    return nodes;
}

}  // namespace boxroom
