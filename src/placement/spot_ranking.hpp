#pragma once
#include <complex>
#include <cstdint>
#include <vector>

#include "base/clock.hpp"
#include "placement/criteria.hpp"
#include "placement/spot_fields.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// How much of the criteria is wanted: the balance alone, by which a sweep of boxes chooses, is a
/// fifth of the work.
enum class Depth { balance_only, all };

/// Judges the spots for which wanted[spot] holds, for the box of this net volume, into `result`
/// (by spot). `source`: |U|^2 of that box (F).
void judge_spots(const Judge& judge, const SpotFields& fields, Depth depth,
                 const std::vector<std::uint8_t>& wanted, const std::vector<double>& source,
                 double net_volume, std::vector<Criteria>& result);

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

/// |u|^2, element by element.
std::vector<double> squared_moduli(const std::vector<std::complex<double>>& u);

/// Every spot for one box, best first.
Ranking rank_spots(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Timings& timings);

}  // namespace boxroom
