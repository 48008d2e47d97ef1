#pragma once
#include <string>

#include "base/units.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// The box for people: volumes as a sum, cut list, sheets, weight, remarks and cautions.
std::string build_text(const BoxBuild& build, Units units);

/// The cut list as CSV (RFC 4180), both units.
std::string cut_list_csv(const BoxBuild& build);

}  // namespace boxroom
