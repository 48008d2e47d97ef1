#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

/// A room file cut where the live report puts in what was moved: text[0], value(parts[0]), text[1],
/// value(parts[1]), ... text.back(). Parts are named "wall 0" to "wall 5", "volume", "filling",
/// "facing", "seat 0" (a list of three lengths), ..., and "sub" likewise.
struct RoomFileParts {
    std::vector<std::string> text, parts;
};
RoomFileParts room_file_parts(const Scenario& scenario);

/// The whole scenario as a room file, in SI; reading it gives the same scenario. The scenario's own
/// text, with its remarks, is not kept. One sub at most.
std::string room_file_text(const Scenario& scenario);

/// A wall as a room file has it: its construction's name, or its branches.
std::string wall_toml(const Wall& wall, const std::string& description);

}  // namespace boxroom
