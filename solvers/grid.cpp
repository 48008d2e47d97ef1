#include "solvers/grid.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/check_points.hpp"
#include "solvers/grid_run.hpp"

namespace boxroom {
namespace {

template <typename Real, typename Out>
TransferImpedance<Out> solve(const GridShape& shape, const Air& air,
                             std::span<const double> frequency, std::span<const Point> sources,
                             std::span<const Point> receivers, const GridOptions& options,
                             GridReport& report) {
    const GridNodes nodes = grid_nodes(shape, options.stencil);
    const bool from_sources = sources.size() <= receivers.size();
    const auto from = from_sources ? sources : receivers, to = from_sources ? receivers : sources;
    TransferImpedance<Out> z(frequency.size(), receivers.size(), sources.size());
    run_grid<Real>(
        shape, nodes, air, frequency, from, to, options, report,
        [&](std::size_t run, std::size_t point, std::size_t f, std::complex<double> value) {
            z.at(f, from_sources ? point : run, from_sources ? run : point) =
                static_cast<std::complex<Out>>(value);
        });
    return z;
}

template <typename Out>
TransferImpedance<Out> transfer(const GridShape& shape, const Air& air,
                                std::span<const double> frequency, std::span<const Point> sources,
                                std::span<const Point> receivers, const GridOptions& options,
                                GridReport* report) {
    GridReport own;
    GridReport& told = report ? *report : own;
    const PlanFit fit = told.fit;  // found when the shape was made
    told = {};
    told.fit = fit;
    told.cells = shape.cells;
    told.spacing = shape.spacing;
    if (frequency.empty() || sources.empty() || receivers.empty())
        return {frequency.size(), receivers.size(), sources.size()};
    return options.in_double
               ? solve<double, Out>(shape, air, frequency, sources, receivers, options, told)
               : solve<float, Out>(shape, air, frequency, sources, receivers, options, told);
}

GridShape shape_for(const Room& room, const Air& air, std::span<const double> frequency,
                    std::span<const Point> sources, std::span<const Point> receivers,
                    const GridOptions& options, GridReport* report) {
    check_in_room(room, sources, "a source");
    check_in_room(room, receivers, "a receiver");
    check_apart(sources, receivers);
    if (report) *report = {};
    return grid_for(room, air, frequency, options, report ? &report->fit : nullptr);
}

}  // namespace

double default_grid_spacing(const Air& air, std::span<const double> frequency) {
    const double highest = *std::max_element(frequency.begin(), frequency.end());
    return std::min(0.12, air.speed_of_sound / (19 * highest));
}

GridShape grid_for(const Room& room, const Air& air, std::span<const double> frequency,
                   const GridOptions& options, PlanFit* fit) {
    const double spacing = options.spacing > 0 ? options.spacing
                           : frequency.empty() ? 0.1
                                               : default_grid_spacing(air, frequency);
    return room.is_rectangle() ? grid_of_room(room, spacing)
                               : grid_of_plan(room, air, spacing, fit);
}

TransferImpedance<double> grid_transfer(const GridShape& shape, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options, GridReport* report) {
    return transfer<double>(shape, air, frequency, sources, receivers, options, report);
}

TransferImpedance<double> grid_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options, GridReport* report) {
    return transfer<double>(shape_for(room, air, frequency, sources, receivers, options, report),
                            air, frequency, sources, receivers, options, report);
}

TransferImpedance<float> grid_transfer_many(const Room& room, const Air& air,
                                            std::span<const double> frequency,
                                            std::span<const Point> sources,
                                            std::span<const Point> receivers,
                                            const GridOptions& options, GridReport* report) {
    return transfer<float>(shape_for(room, air, frequency, sources, receivers, options, report),
                           air, frequency, sources, receivers, options, report);
}

}  // namespace boxroom
