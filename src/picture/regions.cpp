#include "picture/regions.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace boxroom {
namespace {

std::size_t index(const FloorMap& map, int ix, int iy) {
    return std::size_t(iy) * std::size_t(map.nx) + std::size_t(ix);
}

bool usable(const FloorMap& map, int ix, int iy) {
    if (ix < 0 || iy < 0 || ix >= map.nx || iy >= map.ny) return false;
    const std::size_t at = index(map, ix, iy);
    return map.valid[at] != 0 && std::isfinite(map.value[at]);
}

/// The corners of a cell in turn, with their values.
struct Cell {
    std::array<GridPoint, 4> corner;
    std::array<double, 4> value;

    GridPoint crossing(std::size_t edge, double level) const {
        const std::size_t next = (edge + 1) % 4;
        const double t = (level - value[edge]) / (value[next] - value[edge]);
        return {corner[edge].x + t * (corner[next].x - corner[edge].x),
                corner[edge].y + t * (corner[next].y - corner[edge].y)};
    }
};

/// The part of a cell in which its value is at least `level`, where that is not all of it.
void add_part(const Cell& cell, double level, std::vector<Isoline>& out) {
    const auto in = [&](std::size_t i) { return cell.value[i % 4] >= level; };
    const bool saddle = in(0) == in(2) && in(1) == in(3) && in(0) != in(1);
    const double middle = (cell.value[0] + cell.value[1] + cell.value[2] + cell.value[3]) / 4;
    if (saddle && middle < level) {  // two corners, each by itself
        for (std::size_t i = 0; i < 4; ++i)
            if (in(i))
                out.push_back(
                    {cell.corner[i], cell.crossing(i, level), cell.crossing((i + 3) % 4, level)});
        return;
    }
    Isoline part;
    for (std::size_t i = 0; i < 4; ++i) {
        if (in(i)) part.push_back(cell.corner[i]);
        if (in(i) != in(i + 1)) part.push_back(cell.crossing(i, level));
    }
    if (part.size() > 2) out.push_back(std::move(part));
}

}  // namespace

FloorMap carried_on(const FloorMap& map) {
    FloorMap out = map;
    out.nx = map.nx + 2, out.ny = map.ny + 2;
    out.x0 = map.x0 - map.dx, out.y0 = map.y0 - map.dy;
    out.value.assign(std::size_t(out.nx) * std::size_t(out.ny), 0);
    out.valid.assign(out.value.size(), 0);
    for (int iy = 0; iy < out.ny; ++iy)
        for (int ix = 0; ix < out.nx; ++ix) {
            const bool own = usable(map, ix - 1, iy - 1);
            double sum = 0;
            int count = 0;
            for (int j = iy - 2; j <= iy; ++j)
                for (int i = ix - 2; i <= ix; ++i) {
                    if (own && (i != ix - 1 || j != iy - 1)) continue;
                    if (!usable(map, i, j)) continue;
                    sum += map.value[index(map, i, j)];
                    ++count;
                }
            if (!count) continue;
            out.value[index(out, ix, iy)] = sum / count;
            out.valid[index(out, ix, iy)] = 1;
        }
    return out;
}

std::vector<Isoline> region_above(const FloorMap& map, double level) {
    std::vector<Isoline> out;
    for (int iy = 0; iy + 1 < map.ny; ++iy) {
        int from = -1;  // where the run of whole cells began
        const auto end_run = [&](int to) {
            if (from < 0) return;
            const double left = from, right = to, top = iy, bottom = iy + 1;
            out.push_back({{left, top}, {right, top}, {right, bottom}, {left, bottom}});
            from = -1;
        };
        for (int ix = 0; ix + 1 < map.nx; ++ix) {
            if (!usable(map, ix, iy) || !usable(map, ix + 1, iy) || !usable(map, ix, iy + 1) ||
                !usable(map, ix + 1, iy + 1)) {
                end_run(ix);
                continue;
            }
            const double x = ix, y = iy;
            const Cell cell{
                {{{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}}},
                {map.value[index(map, ix, iy)], map.value[index(map, ix + 1, iy)],
                 map.value[index(map, ix + 1, iy + 1)], map.value[index(map, ix, iy + 1)]}};
            if (*std::min_element(cell.value.begin(), cell.value.end()) >= level) {
                if (from < 0) from = ix;
                continue;
            }
            end_run(ix);
            add_part(cell, level, out);
        }
        end_run(map.nx - 1);
    }
    return out;
}

std::vector<GridRectangle> valid_cells(const FloorMap& map) {
    std::vector<GridRectangle> out;
    for (int iy = 0; iy < map.ny; ++iy)
        for (int ix = 0; ix < map.nx; ++ix) {
            if (!usable(map, ix, iy)) continue;
            const int from = ix;
            while (usable(map, ix + 1, iy)) ++ix;
            out.push_back({{from - 0.5, iy - 0.5}, {ix + 0.5, iy + 0.5}});
        }
    return out;
}

}  // namespace boxroom
