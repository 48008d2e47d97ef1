#include "solvers/room_solver.hpp"

#include "solvers/modal.hpp"

namespace boxroom {

TransferImpedance<double> room_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const SolverSettings& settings) {
    if (settings.solver == RoomSolver::modal)
        return modal_transfer(room, air, frequency, sources, receivers);
    GridReport report;
    auto z = grid_transfer(room, air, frequency, sources, receivers, settings.grid, &report);
    if (settings.on_grid) settings.on_grid(report);
    return z;
}

TransferImpedance<float> room_transfer_many(const Room& room, const Air& air,
                                            std::span<const double> frequency,
                                            std::span<const Point> sources,
                                            std::span<const Point> receivers,
                                            const SolverSettings& settings) {
    if (settings.solver == RoomSolver::modal)
        return modal_transfer_many(room, air, frequency, sources, receivers);
    GridReport report;
    auto z = grid_transfer_many(room, air, frequency, sources, receivers, settings.grid, &report);
    if (settings.on_grid) settings.on_grid(report);
    return z;
}

}  // namespace boxroom
