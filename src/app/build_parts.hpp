#pragma once
#include "app/session.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// The contract's keys and what else there is to say about a box.
nlohmann::ordered_json build_json(const BoxBuild& build);

/// Writes the cut list and the drawings into the session's folder.
void write_build_files(Session& session, const BoxBuild& build);

}  // namespace boxroom
