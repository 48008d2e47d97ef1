#pragma once
#include <cstdint>

#include "placement/planning.hpp"
#include "results/sets.hpp"

namespace boxroom {

/// The inputs of one draw.
struct Draw {
    Room room;
    std::vector<Seat> seats;
    std::vector<Point> shift;  ///< of sub 0 .. 3, on the floor
    DriverSheet driver;
};

/// Draw number n: every uncertain input uniform within its bounds, factors uniform in their
/// logarithm, each wall and seat by itself (the height of the ears together), Qts, Qes and Qms by
/// one factor. What stands in the far half of the room keeps its distance from the far wall. The
/// same n and seed give the same draw, whatever else is drawn.
Draw draw_inputs(const Scenario& scenario, int n);

/// Fills `robustness` of the first `most` sets of each ranking: in each draw all of them are
/// judged, with the settings they have, in the same room, and of each ranking the one with the
/// lowest score wins. With no uncertainty every draw is the nominal case. Says in `ranking.reason`
/// which set is the robust choice (`ranking.choice`), and whether that is a tie. The draws are
/// solved exactly; a room that is no rectangle is not drawn (the reason says so).
void judge_robustness(const Scenario& scenario, double box_volume,
                      const std::vector<SetRanking*>& rankings, int most, Timings& timings);

}  // namespace boxroom
