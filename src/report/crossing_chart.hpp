#pragma once
#include <string>

#include "placement/scenario.hpp"
#include "results/crossing.hpp"

namespace boxroom {

/// <figure> of the same; `subs` says which they are ("2 boxes").
std::string crossing_chart(const Crossing& crossing, const std::string& subs, const Target& target,
                           bool absolute);

}  // namespace boxroom
