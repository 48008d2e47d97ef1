#pragma once
#include <filesystem>
#include <string>

#include "measured/recordings.hpp"
#include "measured/room_fit.hpp"

namespace boxroom {

/// Throws Error where a room file in `folder` could not name these files: a path through a folder
/// whose name is no UTF-8.
void require_nameable(const Recordings& recordings, const std::filesystem::path& folder);

/// The user's own text with what the fit found in place of what it changed: sides and the corners
/// that go with them, walls (as branches), contents, speed of sound, fs and Qts, places of seats
/// and subs, a block for the furniture that it lacked, and the doubt that was left. Recordings are
/// named as seen from `folder`, where the text will stand; where that is empty, as the file has
/// them.
std::string fitted_room_file(const Scenario& was, const RoomFit& fit, const Microphone& microphone,
                             const std::filesystem::path& folder);

}  // namespace boxroom
