#include "placement/analysis_grid.hpp"

#include <algorithm>
#include <numbers>

#include "base/error.hpp"
#include "solvers/modal.hpp"

namespace boxroom {

std::vector<double> analysis_grid(const Room& room, const Air& air, const Band& analysed,
                                  const Band& judged, const Fineness& fineness) {
    std::vector<Resonance> resonances;
    const double highest = std::min(analysed.high, judged.high * std::numbers::sqrt2);
    try {
        if (room.has_rectangle_floor())
            for (const Mode& mode : room_modes(room, air, highest))
                resonances.push_back({mode.frequency, mode.q});
    } catch (const Error&) {
        // Walls whose modes cannot be followed: whoever solves the room will say so.
    }
    return resolved_grid(analysed, judged, resonances, fineness);
}

}  // namespace boxroom
