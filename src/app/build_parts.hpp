#pragma once
#include "app/session.hpp"
#include "results/box_build.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// Writes the cut list and the drawings (PNG too where `pictures`) into the session's folder;
/// returns the drawings as SVG, the box first.
std::vector<std::string> write_build_files(Session& session, const BoxBuild& build, bool pictures);

/// The report's section for the (first) box that was decided on. A box that cannot be built as the
/// file says is a warning here, for the plan still holds.
std::string plan_build_section(Session& session, const Decision& decision);

}  // namespace boxroom
