#pragma once
#include <filesystem>

#include "measured/recordings.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// The recordings that a scenario's own text names, their paths seen from `file`'s folder. They are
/// no part of the scenario, which also lives where there are no files (a browser).
Recordings recordings_of(const Scenario& scenario, const std::filesystem::path& file);

}  // namespace boxroom
