#pragma once
#include <filesystem>
#include <string>

#include "survey/survey.hpp"

namespace boxroom {

/// Reads a file of distributions. Every fault is an Error with its line, all at once: unknown keys,
/// distributions that lie outside what a room file allows, no rooms, seats that fit into no room.
/// `name` is what messages call the file.
Survey parse_survey_file(const std::string& text, const std::string& name);
/// The same from disk. Throws Error for what is no file, or too large.
Survey read_survey_file(const std::filesystem::path& path);

}  // namespace boxroom
