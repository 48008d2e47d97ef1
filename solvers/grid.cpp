#include "solvers/grid.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"
#include "base/thread_count.hpp"
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

/// Cells are worth no more than 2 GB in all that run at a time: three pressures in single
/// precision, kinds, and twice as much for walls and what thin walls fold into it
/// (GridReport::bytes_per_cell).
void require_memory(const Room& room, double spacing, std::size_t runs) {
    constexpr double bytes_per_cell = 30, most = 2e9;
    Point low{0, 0, 0}, high{room.width, room.length, room.height};
    for (const Space& space : room.plan.spaces) {
        low = {std::min(low.x, space.from.x), std::min(low.y, space.from.y),
               std::min(low.z, space.from.z)};
        high = {std::max(high.x, space.to.x), std::max(high.y, space.to.y),
                std::max(high.z, space.to.z)};
    }
    const double cells =
        (high.x - low.x) * (high.y - low.y) * (high.z - low.z) / std::pow(spacing, 3);
    const double at_once =
        static_cast<double>(std::min<std::size_t>(runs, static_cast<std::size_t>(thread_count())));
    const double bytes = cells * bytes_per_cell * at_once;
    if (bytes <= most) return;
    throw Error("--solver grid",
                number(cells / 1e6, 0) + " million cells of " + number(100 * spacing, 0) +
                    " cm take " + number(bytes / 1e9, 1) + " GB of memory, more than 2 GB",
                std::string("let [analysis] end at a lower frequency, for larger cells") +
                    (at_once > 1 ? ", or take --threads 1" : ""));
}

GridShape shape_for(const Room& room, const Air& air, std::span<const double> frequency,
                    std::span<const Point> sources, std::span<const Point> receivers,
                    const GridOptions& options, GridReport* report) {
    check_in_room(room, sources, "a source");
    check_in_room(room, receivers, "a receiver");
    check_apart(sources, receivers);
    if (report) *report = {};
    if (!frequency.empty())
        require_memory(room,
                       options.spacing > 0 ? options.spacing : default_grid_spacing(air, frequency),
                       std::min(sources.size(), receivers.size()));
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
