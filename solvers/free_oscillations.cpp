#include "solvers/free_oscillations.hpp"

#include <memory>

#include "solvers/mode_shape.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {

bool knows_free_oscillations(const Room& room, const SolverSettings& settings) {
    return room.has_rectangle_floor() ||
           (settings.solver == RoomSolver::modal && settings.solved != nullptr);
}

std::vector<FreeOscillation> free_oscillations(const Room& room, const Air& air, double highest,
                                               const SolverSettings& settings) {
    if (!room.has_rectangle_floor() && knows_free_oscillations(room, settings))
        return settings.solved->free_oscillations(room, air, highest);
    std::vector<FreeOscillation> all;
    for (const Mode& mode : room_modes(room, air, highest)) {  // throws where no rectangle
        const auto shape = std::make_shared<const ModeShape>(room, air, mode);
        all.push_back({mode, [shape](const Point& p) { return shape->at(p); }, shape->transfer()});
    }
    return all;
}

}  // namespace boxroom
