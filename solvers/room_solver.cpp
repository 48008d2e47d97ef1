#include "solvers/room_solver.hpp"

#include "base/error.hpp"
#include "solvers/modal.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {
namespace {

/// A room with blocks, openings or a floor plan, by elements.
template <typename Real>
TransferImpedance<Real> element_transfer(const Room& room, const Air& air,
                                         std::span<const double> frequency,
                                         std::span<const Point> sources,
                                         std::span<const Point> receivers,
                                         const SolverSettings& settings) {
    if (settings.solved)
        return settings.solved->transfer<Real>(room, air, frequency, sources, receivers);
    return SolvedRooms().transfer<Real>(room, air, frequency, sources, receivers);
}

}  // namespace

TransferImpedance<double> room_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const SolverSettings& settings) {
    if (settings.solver == RoomSolver::modal && !room.is_rectangle())
        return element_transfer<double>(room, air, frequency, sources, receivers, settings);
    if (settings.solver == RoomSolver::modal)
        return modal_transfer(room, air, frequency, sources, receivers);
    GridReport report;
    auto z = grid_transfer(room, air, frequency, sources, receivers, settings.grid, &report);
    if (settings.on_grid) settings.on_grid(report);
    return z;
}

TransferImpedance<double> room_transfer_shared(const Room& room, const Air& air,
                                               std::span<const double> frequency,
                                               std::span<const Point> sources,
                                               std::span<const Point> receivers,
                                               const SolverSettings& settings) {
    if (settings.solver == RoomSolver::modal && room.is_rectangle())
        return modal_transfer_shared(room, air, frequency, sources, receivers);
    return room_transfer(room, air, frequency, sources, receivers, settings);
}

TransferImpedance<float> room_transfer_many(const Room& room, const Air& air,
                                            std::span<const double> frequency,
                                            std::span<const Point> sources,
                                            std::span<const Point> receivers,
                                            const SolverSettings& settings) {
    if (settings.solver == RoomSolver::modal && !room.is_rectangle())
        return element_transfer<float>(room, air, frequency, sources, receivers, settings);
    if (settings.solver == RoomSolver::modal)
        return modal_transfer_many(room, air, frequency, sources, receivers);
    GridReport report;
    auto z = grid_transfer_many(room, air, frequency, sources, receivers, settings.grid, &report);
    if (settings.on_grid) settings.on_grid(report);
    return z;
}

}  // namespace boxroom
