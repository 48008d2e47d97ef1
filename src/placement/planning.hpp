#pragma once
#include "placement/listening.hpp"
#include "placement/spot_ranking.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// Boxes x spots for one box. A spot is judged with the box that balances best there, the boxes by
/// balance, level and size at the best spot (box_verdict.hpp): box size moves the broad tilt, the
/// spot everything else. Leaves the responses and the maps over the floor to what is decided from
/// it (tuning/deciding).
Plan make_plan(const Scenario& scenario, const Driver& driver, Timings& timings);

}  // namespace boxroom
