#pragma once
#include <toml++/toml.h>

#include <string>

#include "placement/scenario.hpp"

namespace boxroom {

/// A parsed room file as a scenario, without its text: each table goes through the reader named
/// after it. `file` stands in messages. Throws Error with every fault of the file at once.
Scenario read_scenario(const toml::table& root, const std::string& file);

}  // namespace boxroom
