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

/// A box to be tried at the spots of a floor.
struct TriedBox {
    double net_volume;
    Sides outer;
    ByFrequency<std::complex<double>> flow;  ///< volume velocity (F,1)
    bool buildable;  ///< else only its balance is wanted, and it is chosen nowhere
};

/// What the spots are worth, each with the box that balances best there.
struct JudgedFloor {
    std::vector<std::vector<double>> balance_db;  ///< [box][spot], of wanted spots
    std::vector<int> box;                         ///< [spot], -1 where none fits
    std::vector<std::uint8_t> fits;               ///< [spot]
    std::vector<Criteria> criteria;               ///< [spot], but for the score
};

/// Looks at the wanted spots of `fields` with every box: by the balance alone, which a box is
/// chosen by and which costs a fifth of the rest, then with the chosen one. Does not depend on the
/// number of threads.
JudgedFloor judge_floor(const Judge& judge, const RingingModes& ringing, const SpotGrid& grid,
                        const SpotFields& fields, const std::vector<TriedBox>& boxes);

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
