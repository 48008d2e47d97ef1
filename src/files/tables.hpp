#pragma once
#include <filesystem>
#include <string>

#include "results/listening.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// Writes bytes to a temporary file beside `path` and renames it: whole or not at all.
/// Throws Error if the folder cannot be written.
void write_whole(const std::filesystem::path& path, const std::string& bytes);

/// CSV (RFC 4180), first row names with units.
std::string curves_csv(const Listening&);
std::string spots_csv(const Ranking&);
std::string plan_csv(const Plan&);

}  // namespace boxroom
