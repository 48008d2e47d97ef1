#include "solvers/grid_runs.hpp"

#include "solvers/grid_stencil.hpp"

namespace boxroom {

std::vector<GridRun> grid_runs(const GridNodes& nodes) {
    std::vector<GridRun> runs;
    const std::size_t row_length = nodes.count[0];
    // The run along y that last passed each place of a row; a single node of a wall joins it.
    std::vector<std::size_t> column(row_length, runs.max_size());
    for (std::size_t row = 0; row < nodes.size(); row += row_length) {
        for (std::size_t i = row; i < row + row_length;) {
            const int kind = nodes.kind_of[i];
            std::size_t end = i + 1;
            while (end < row + row_length && nodes.kind_of[end] == kind && end - i < longest_run)
                ++end;
            std::size_t& above = column[i - row];
            if (kind >= 0 && !nodes.kinds[kind].inner && end == i + 1 && above < runs.size() &&
                runs[above].kind == kind && runs[above].count < longest_run &&
                runs[above].first + runs[above].count * row_length == i &&
                (runs[above].count == 1 || runs[above].stride != 1)) {
                runs[above].stride = static_cast<std::ptrdiff_t>(row_length);
                ++runs[above].count;
            } else if (kind >= 0) {
                above = runs.size();
                runs.push_back({i, static_cast<int>(end - i), kind, 1, 0});
            }
            i = end;
        }
    }
    return runs;
}

}  // namespace boxroom
