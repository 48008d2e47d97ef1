#pragma once
#include "placement/listening.hpp"
#include "placement/spot_ranking.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// Boxes x spots. A spot is judged with the box that balances best there, the box by balance at the
/// chosen spot: box size moves the broad tilt, the spot everything else. The box to build is the
/// smallest that takes the driver, whose balance is within target.indifference of the best and
/// whose Qtc is at most 1.0 (or at most the best one's, if that is higher).
Plan make_plan(const Scenario& scenario, const Driver& driver, Timings& timings);

}  // namespace boxroom
