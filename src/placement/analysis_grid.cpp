#include "placement/analysis_grid.hpp"

#include <algorithm>
#include <numbers>

#include "base/error.hpp"
#include "solvers/modal_drafts.hpp"

namespace boxroom {

namespace {

/// Modes above have no peak where points are added.
double highest_resolved(const Band& analysed, const Band& judged) {
    return std::min(analysed.high, judged.high * std::numbers::sqrt2);
}

std::vector<Mode> modes_if_known(const Room& room, const Air& air, double highest) {
    try {
        if (room.has_rectangle_floor()) return room_modes(room, air, highest);
    } catch (const Error&) {
        // Walls whose modes cannot be followed: whoever solves the room will say so.
    }
    return {};
}

}  // namespace

std::vector<double> analysis_grid(const Room& room, const Air& air, const Band& analysed,
                                  const Band& judged, const Fineness& fineness) {
    std::vector<Resonance> resonances;
    for (const Mode& mode : modes_if_known(room, air, highest_resolved(analysed, judged)))
        resonances.push_back({mode.frequency, mode.q});
    return resolved_grid(analysed, judged, resonances, fineness);
}

NearbyGrids::NearbyGrids(const Room& room, const Air& air, const Band& analysed, const Band& judged)
    : air_(air), analysed_(analysed), judged_(judged) {
    constexpr double margin = 1.1;  // a smaller room's are higher, a larger one's lower
    for (const Mode& mode :
         modes_if_known(room, air, margin * highest_resolved(analysed, judged))) {
        const Mode rough = first_order_mode(room, air, mode.order);
        modes_.push_back({mode.order, mode.frequency / rough.frequency, mode.q / rough.q});
    }
}

std::vector<double> NearbyGrids::of(const Room& near) const {
    std::vector<Resonance> resonances;
    for (const Known& mode : modes_) {
        const Mode rough = first_order_mode(near, air_, mode.order);
        const double frequency = mode.shift * rough.frequency;
        if (frequency <= highest_resolved(analysed_, judged_))
            resonances.push_back({frequency, mode.sharpness * rough.q});
    }
    Fineness draft;
    draft.parts = 50;
    return resolved_grid(analysed_, judged_, resonances, draft);
}

}  // namespace boxroom
