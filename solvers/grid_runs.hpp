#pragma once
#include <cstddef>
#include <vector>

#include "solvers/grid_shape.hpp"

namespace boxroom {

/// Neighbours of one kind along x; or along y, for walls that are one node wide along x.
struct GridRun {
    std::size_t first = 0;
    int count = 0, kind = 0;
    std::ptrdiff_t stride = 1;
    std::size_t state = 0;  ///< first state of branch 0; branch b follows at + 2 b count
    std::size_t node(int i) const { return first + i * stride; }
};

/// All nodes with air in runs of at most longest_run (solvers/grid_stencil.hpp).
std::vector<GridRun> grid_runs(const GridNodes& nodes);

}  // namespace boxroom
