#pragma once
#include <vector>

#include "results/sets.hpp"

namespace boxroom {

/// Whether every box of one set stands within 0.30 m of one of the other: the same advice twice.
bool same_advice(const RankedSet& a, const RankedSet& b);

/// Sets that no other beats by a visible step (0.1 dB, 0.5 dB of level), by spread.
std::vector<RankedSet> front_of(std::vector<RankedSet> sets);

}  // namespace boxroom
