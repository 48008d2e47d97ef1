#pragma once
#include "measured/fit_parameters.hpp"
#include "measured/predicted.hpp"
#include "solvers/varied_room.hpp"

namespace boxroom {

/// A state as solvers of many rooms have it: from sources_of_recordings() to its recordings.
/// `sound`: speed of sound in the file [m/s].
inline RoomVariant fit_variant(const FitState& state, double sound) {
    const Acoustics& a = state.scenario.acoustics;
    RoomVariant v{a.room, {}, {}, a.air.speed_of_sound / sound};
    for (const PlacedSub& source : sources_of_recordings(state.scenario, state.recordings))
        v.sources.push_back(source.at);
    for (const Recording& recording : state.recordings) v.receivers.push_back(recording.at);
    return v;
}

}  // namespace boxroom
