#pragma once
#include <string>
#include <vector>

#include "results/seat.hpp"

namespace boxroom {

/// The text of a room file with other places for its seats and subs (in the file's order) and
/// another net box volume [m3]; everything else, comments included, stays as it was written. Subs
/// that the file does not have are added at its end. Places are written to 0.01 mm. Throws Error if
/// the text is no TOML or has fewer seats than given.
std::string rearranged_room_file(const std::string& text, const std::vector<Seat>& seats,
                                 const std::vector<PlacedSub>& subs, double volume);

}  // namespace boxroom
