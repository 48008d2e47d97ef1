#pragma once
#include <filesystem>
#include <string>

#include "measured/room_fit.hpp"

namespace boxroom {

/// The user's own text with what the fit found in place of what it changed: sides, walls (as
/// branches), contents, speed of sound, fs and Qts, places of seats and subs. Recordings are named
/// as seen from `folder`, where the text will stand.
std::string fitted_room_file(const Scenario& was, const RoomFit& fit, const Microphone& microphone,
                             const std::filesystem::path& folder);

}  // namespace boxroom
