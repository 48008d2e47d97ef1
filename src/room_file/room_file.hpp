#pragma once
#include <filesystem>
#include <string>

#include "base/units.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// Reads a room file. Throws Error with every fault at once, each as "file:line"; for what is no
/// ordinary file, or larger than room_file_bounds, before it is read through.
Scenario read_room_file(const std::filesystem::path& path);
/// The same from text; `name` stands in for the file in messages.
Scenario parse_room_file(const std::string& text, const std::string& name);
/// The commented file that `new` writes, in metres and litres or in feet, inches and cubic feet.
std::string starter_room_file(Units units);

}  // namespace boxroom
