#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// The box to build as a piece of the report: volumes as a sum, cut list, drawings (SVG), what to
/// know and where to take care.
std::string build_html(const BoxBuild& build, const std::vector<std::string>& drawings,
                       Units units);

}  // namespace boxroom
