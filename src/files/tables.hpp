#pragma once
#include <string>

#include "results/listening.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// CSV (RFC 4180), first row names with units.
std::string curves_csv(const Listening&);
std::string spots_csv(const Ranking&);
std::string plan_csv(const Plan&);

}  // namespace boxroom
