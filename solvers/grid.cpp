#include "solvers/grid.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "solvers/grid_run.hpp"

namespace boxroom {
namespace {

template <typename Real>
TransferImpedance<double> solve(const GridShape& shape, const Air& air,
                                std::span<const double> frequency, std::span<const Point> sources,
                                std::span<const Point> receivers, const GridOptions& options,
                                GridReport& report) {
    const GridNodes nodes = grid_nodes(shape, options.stencil);
    const bool from_sources = sources.size() <= receivers.size();
    const auto from = from_sources ? sources : receivers, to = from_sources ? receivers : sources;
    TransferImpedance<double> z(frequency.size(), receivers.size(), sources.size());
    run_grid<Real>(
        shape, nodes, air, frequency, from, to, options, report,
        [&](std::size_t run, std::size_t point, std::size_t f, std::complex<double> value) {
            z.at(f, from_sources ? point : run, from_sources ? run : point) = value;
        });
    return z;
}

}  // namespace

double default_grid_spacing(const Air& air, std::span<const double> frequency) {
    const double highest = *std::max_element(frequency.begin(), frequency.end());
    return std::min(0.12, air.speed_of_sound / (19 * highest));
}

TransferImpedance<double> grid_transfer(const GridShape& shape, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options, GridReport* report) {
    GridReport own;
    GridReport& told = report ? *report : own;
    told = {};
    told.cells = shape.cells;
    told.spacing = shape.spacing;
    if (frequency.empty() || sources.empty() || receivers.empty())
        return {frequency.size(), receivers.size(), sources.size()};
    return options.in_double
               ? solve<double>(shape, air, frequency, sources, receivers, options, told)
               : solve<float>(shape, air, frequency, sources, receivers, options, told);
}

TransferImpedance<double> grid_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options, GridReport* report) {
    for (const auto& points : {sources, receivers})
        for (const Point& p : points)
            if (!room.contains(p))
                throw Error("grid solver", "a source or receiver lies outside the room",
                            "every point needs 0 <= x <= width, 0 <= y <= length, 0 <= z <= "
                            "height");
    const double spacing = options.spacing > 0 ? options.spacing
                           : frequency.empty() ? 0.1
                                               : default_grid_spacing(air, frequency);
    return grid_transfer(grid_of_room(room, spacing), air, frequency, sources, receivers, options,
                         report);
}

}  // namespace boxroom
