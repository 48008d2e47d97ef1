#pragma once
#include <filesystem>
#include <string>

#include "placement/scenario.hpp"

namespace boxroom {

/// Reads a room file. Throws Error with every fault at once, each as "file:line".
Scenario read_room_file(const std::filesystem::path& path);
/// The same from text; `name` stands in for the file in messages.
Scenario parse_room_file(const std::string& text, const std::string& name);
/// The commented file that `new` writes.
std::string starter_room_file();

}  // namespace boxroom
