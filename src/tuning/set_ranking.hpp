#pragma once
#include "placement/planning.hpp"
#include "results/sets.hpp"
#include "tuning/equaliser.hpp"

namespace boxroom {

/// Sets of `subs` boxes of this size, best first: searched with all subs alike (placement/
/// set_search), then each of the best given its own settings and a shared equaliser, and ordered by
/// what they are worth with these settings. Of sets nearer than 0.3 m to a better one only the
/// better is listed. Throws Error where no box
/// or not so many boxes fit.
SetRanking rank_sets(const Scenario& scenario, const Driver& driver, const ClosedBox& box, int subs,
                     Timings& timings);

/// The response of a set, settings included; `listen` for its subs.
Listening listen_to_set(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                        const RankedSet& set);
std::vector<PlacedSub> placed(const RankedSet& set);

}  // namespace boxroom
