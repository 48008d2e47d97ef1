#pragma once
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "tuning/settings_vectors.hpp"

namespace boxroom {

/// Two subs with the second louder by some gains [dB] and later by some delays [s], for a coarse
/// look at where valleys of the score lie.
struct PairLook {
    std::span<const double> gain_db, delay;
    int polarity = 1;  ///< of the second
};

/// The score of each, [gain][delay]: SettingsProblem::score in single precision, within 0.002 dB of
/// it. Many delays at a time by the kernel that judges sets of spots (SetVectors), with
/// |a + g b| = g |a/g + b|, so that b is turned once for all gains.
std::vector<double> pair_scores(const Judge& judge, const ScoreWeights& weights,
                                const SubPressures& pressure, const PairLook& look);

}  // namespace boxroom
