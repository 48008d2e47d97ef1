#include "solvers/grid_shape.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.hpp"
#include "solvers/grid_contents.hpp"

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

int link_towards(int x, int y, int z) {
    for (int i = 0; i < 18; ++i)
        if (link_step[i][0] == x && link_step[i][1] == y && link_step[i][2] == z) return i;
    return -1;
}

/// What one cell of air gives to the links of its corner that lies at `toward` = -1 or 1 along each
/// axis as seen from the corner: a quarter of the area along each edge. For nineteen points each
/// face of the cell also takes q = (h_a^2 + h_b^2)/12 V/2/(h_a^2 h_b^2) from its two edges here and
/// gives it to its diagonal.
void add_links(std::array<double, 18>& link, const std::array<double, 3>& h, const int toward[3],
               Stencil stencil) {
    const double cell = h[0] * h[1] * h[2];
    for (int a = 0; a < 3; ++a) {
        int step[3] = {0, 0, 0};
        step[a] = toward[a];
        const int along = link_towards(step[0], step[1], step[2]);
        link[along] += cell / (h[a] * h[a]) / 4;
        if (stencil == Stencil::seven_points) continue;
        for (int b = 0; b < 3; ++b) {
            if (b == a) continue;
            const double q = (1 / (h[a] * h[a]) + 1 / (h[b] * h[b])) * cell / 24;
            link[along] -= q;
            if (b < a) continue;
            int across[3] = {step[0], step[1], step[2]};
            across[b] = toward[b];
            link[link_towards(across[0], across[1], across[2])] += q;
        }
    }
}

/// The kind of the node at (x, y, z): each of the eight cells around it that is air gives an eighth
/// of a cell, its part of the links, and a quarter of each bare face.
NodeKind kind_at(const GridShape& shape, Stencil stencil, int x, int y, int z) {
    const auto& h = shape.spacing;
    const double cell = h[0] * h[1] * h[2];
    NodeKind kind;
    for (int corner = 0; corner < 8; ++corner) {
        const int side[3] = {corner & 1, corner >> 1 & 1, corner >> 2};
        const int at[3] = {x - 1 + side[0], y - 1 + side[1], z - 1 + side[2]};
        const CellKind filled = shape.cell(at[0], at[1], at[2]);
        if (filled == solid_cell) continue;
        kind.volume += cell / 8;
        const int toward[3] = {2 * side[0] - 1, 2 * side[1] - 1, 2 * side[2] - 1};
        add_links(kind.link, h, toward, stencil);
        if (filled == contents_cell) add_links(kind.among, h, toward, stencil);
        for (int axis = 0; axis < 3; ++axis) {
            // The cell's face through this node looks back across the node.
            const int direction = 2 * axis + 1 - side[axis];
            const int* step = step_of[direction];
            if (shape.is_air(at[0] + step[0], at[1] + step[1], at[2] + step[2])) continue;
            const int surface = shape.surface(at[0], at[1], at[2], direction);
            add_patch(kind, surface, shape.surfaces[surface].area_scale * cell / h[axis] / 4);
        }
    }
    std::sort(kind.patches.begin(), kind.patches.end(),
              [](const auto& a, const auto& b) { return a.surface < b.surface; });
    return kind;
}

/// What all eight cells around a node are filled with; solid_cell if they differ.
CellKind all_round(const GridShape& shape, int x, int y, int z) {
    const CellKind first = shape.cell(x, y, z);
    for (int corner = 1; corner < 8; ++corner)
        if (shape.cell(x - (corner & 1), y - (corner >> 1 & 1), z - (corner >> 2)) != first)
            return solid_cell;
    return first;
}

/// The node with air of one sort all round.
NodeKind inner_kind(const GridShape& shape, Stencil stencil, CellKind filled) {
    const auto& h = shape.spacing;
    NodeKind inner;
    inner.inner = true;
    inner.volume = h[0] * h[1] * h[2];
    for (int corner = 0; corner < 8; ++corner) {
        const int toward[3] = {2 * (corner & 1) - 1, 2 * (corner >> 1 & 1) - 1,
                               2 * (corner >> 2) - 1};
        add_links(inner.link, h, toward, stencil);
    }
    if (filled == contents_cell) inner.among = inner.link;
    return inner;
}

/// Kinds are the same if all their numbers are; areas come in eighths, so rounding is safe.
std::vector<long long> key_of(const NodeKind& kind, double cell) {
    std::vector<long long> key{std::llround(kind.volume / cell * 8)};
    for (double link : kind.link) key.push_back(std::llround(link * 1e9));
    for (double link : kind.among) key.push_back(std::llround(link * 1e9));
    for (const auto& patch : kind.patches) {
        key.push_back(patch.surface);
        key.push_back(std::llround(patch.area * 1e9));
    }
    return key;
}

}  // namespace

double GridShape::air_volume() const {
    return static_cast<double>(air.size() - std::count(air.begin(), air.end(), solid_cell)) *
           spacing[0] * spacing[1] * spacing[2];
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
    shape.contents = room.contents;
    shape.contents_volume = room.volume();
    shape.air.assign(cells, room.contents.empty() ? air_cell : contents_cell);
    for (const Wall& wall : room.walls) shape.surfaces.push_back({wall, 1});
    shape.surface = [](int, int, int, int direction) { return direction; };
    return shape;
}

GridNodes grid_nodes(const GridShape& shape, Stencil stencil) {
    GridNodes nodes;
    nodes.stencil = stencil;
    for (int axis = 0; axis < 3; ++axis) nodes.count[axis] = shape.cells[axis] + 1;
    const auto& n = nodes.count;
    nodes.kind_of.assign(static_cast<std::size_t>(n[0]) * n[1] * n[2], -1);
    const double cell = shape.spacing[0] * shape.spacing[1] * shape.spacing[2];
    // Kind 0 has plain air all round, kind 1 contents.
    for (const CellKind filled : {air_cell, contents_cell})
        nodes.kinds.push_back(inner_kind(shape, stencil, filled));
    std::map<std::vector<long long>, int> known;
    for (int z = 0; z < n[2]; ++z)
        for (int y = 0; y < n[1]; ++y)
            for (int x = 0; x < n[0]; ++x) {
                auto& kind = nodes.kind_of[(static_cast<std::size_t>(z) * n[1] + y) * n[0] + x];
                if (const CellKind filled = all_round(shape, x, y, z); filled != solid_cell) {
                    kind = filled == contents_cell;
                    continue;
                }
                NodeKind found = kind_at(shape, stencil, x, y, z);
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

double longest_time_step(const GridShape& shape, Stencil stencil, const Air& air) {
    std::array<double, 3> inverse;
    for (int a = 0; a < 3; ++a) inverse[a] = 1 / (shape.spacing[a] * shape.spacing[a]);
    std::sort(inverse.begin(), inverse.end());
    const double square = stencil == Stencil::seven_points ? inverse[0] + inverse[1] + inverse[2]
                                                           : (inverse[1] + inverse[2]) / 1.5;
    const double plain = 1 / (air.speed_of_sound * std::sqrt(square));
    return plain * shorter_by_contents(shape.contents, shape.contents_volume, air, plain);
}

}  // namespace boxroom
