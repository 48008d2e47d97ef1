#pragma once
#include <functional>
#include <memory>
#include <span>

#include "solvers/grid.hpp"
#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

class SolvedRooms;

/// The room's own basis (exact for a rectangle, elements for any other), or finite differences.
enum class RoomSolver { modal, grid };

struct SolverSettings {
    RoomSolver solver = RoomSolver::modal;
    GridOptions grid;
    /// Keeps what elements have solved; without it each call solves anew.
    std::shared_ptr<SolvedRooms> solved;
    /// Told about each solution on a grid.
    std::function<void(const GridReport&)> on_grid;
};

/// Transfer impedances of the room by the solver that the settings name.
TransferImpedance<double> room_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const SolverSettings& settings);
/// The same for some hundred sources that have coordinates in common: of a rectangle to 0.001 dB.
TransferImpedance<double> room_transfer_shared(const Room& room, const Air& air,
                                               std::span<const double> frequency,
                                               std::span<const Point> sources,
                                               std::span<const Point> receivers,
                                               const SolverSettings& settings);
/// The same for many sources (whole floors).
TransferImpedance<float> room_transfer_many(const Room& room, const Air& air,
                                            std::span<const double> frequency,
                                            std::span<const Point> sources,
                                            std::span<const Point> receivers,
                                            const SolverSettings& settings);

}  // namespace boxroom
