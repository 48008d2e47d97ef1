#pragma once
#include <functional>

#include "placement/planning.hpp"
#include "results/sets.hpp"
#include "tuning/draws.hpp"

namespace boxroom {

/// Fills `robustness` of the first `most` sets of each ranking: in each draw all of them are
/// judged, with the settings they have, in the same room, and of each ranking the one with the
/// lowest score wins. With no uncertainty every draw is the nominal case. Says in `ranking.reason`
/// which set is the robust choice (`ranking.choice`), and whether that is a tie. The draws of a
/// rectangle are solved exactly, those of any other room by elements (tuning/drawn_rooms); with the
/// grid solver none are (the reason says so). `progress` hears now and then, on any thread but one
/// at a time, the share of the draws that is done and the seconds left.
void judge_robustness(const Scenario& scenario, double box_volume,
                      const std::vector<SetRanking*>& rankings, int most, Timings& timings,
                      const std::function<void(double, double)>& progress = {});

}  // namespace boxroom
