#pragma once
#include <complex>
#include <cstdint>
#include <vector>

#include "base/clock.hpp"
#include "placement/criteria.hpp"
#include "placement/ringing.hpp"
#include "placement/spot_fields.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// How much of the criteria is wanted: the balance alone, by which a sweep of boxes chooses, is a
/// fifth of the work.
enum class Depth { balance_only, all };

/// A box at the spots of a floor.
struct BoxThere {
    double net_volume;
    const Sides& outer;
    const SpotGrid& grid;
    const ByFrequency<std::complex<double>>& flow;  ///< volume velocity (F,1)
};

/// Judges the spots for which wanted[spot] holds, for one box, into `result` (by spot).
void judge_spots(const Judge& judge, const SpotFields& fields, const RingingModes& ringing,
                 Depth depth, const std::vector<std::uint8_t>& wanted, const BoxThere& there,
                 std::vector<Criteria>& result);

/// 1 for each spot where this box may stand.
std::vector<std::uint8_t> fitting(const SpotGrid& grid, const Sides& box);

/// Scores against the loudest spot that fits; the spots that fit, best first. Throws Error where
/// none does.
std::vector<int> order_by_score(std::vector<Criteria>& criteria,
                                const std::vector<std::uint8_t>& fits, const ScoreWeights& weights);

RankedSpot ranked(const SpotGrid& grid, const Sides& box, int spot, int rank,
                  const Criteria& criteria);

/// Spread and score by spot, as maps.
struct SpotMaps {
    FloorMap spread, scores;
};
SpotMaps spot_maps(const Scenario& scenario, const SpotGrid& grid, const Sides& box,
                   const std::vector<Criteria>& criteria, const std::vector<std::uint8_t>& fits);

/// Every spot for one box, best first.
Ranking rank_spots(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Timings& timings);

}  // namespace boxroom
