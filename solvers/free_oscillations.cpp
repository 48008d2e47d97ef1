#include "solvers/free_oscillations.hpp"

#include <memory>

#include "base/error.hpp"
#include "solvers/mode_shape.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {

bool knows_free_oscillations(const Room& room, const SolverSettings& settings) {
    return room.is_rectangle() ||
           (settings.solver == RoomSolver::modal && settings.solved != nullptr);
}

std::vector<FreeOscillation> free_oscillations(const Room& room, const Air& air, double highest,
                                               const SolverSettings& settings) {
    if (!knows_free_oscillations(room, settings))
        throw Error("room modes", "on a grid the modes of this room are not known",
                    "leave out --solver grid, and end [analysis] band below 320 Hz");
    if (!room.is_rectangle()) return settings.solved->free_oscillations(room, air, highest);
    std::vector<FreeOscillation> all;
    for (const Mode& mode : room_modes(room, air, highest)) {
        const auto shape = std::make_shared<const ModeShape>(room, air, mode);
        all.push_back({mode, [shape](const Point& p) { return shape->at(p); }, shape->transfer()});
    }
    return all;
}

}  // namespace boxroom
