#pragma once
#include <map>
#include <string>

#include "placement/listening.hpp"
#include "results/plan.hpp"

namespace boxroom {

using Timings = std::map<std::string, double>;  ///< phase -> seconds

/// Every spot for one box, best first.
Ranking rank_spots(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Timings& timings);

/// Boxes x spots. A spot is judged with the box that balances best there, the box by balance at the
/// chosen spot: box size moves the broad tilt, the spot everything else. The box to build is the
/// smallest that takes the driver, whose balance is within target.indifference of the best and
/// whose Qtc is at most 1.0 (or at most the best one's, if that is higher).
Plan make_plan(const Scenario& scenario, const Driver& driver, Timings& timings);

}  // namespace boxroom
