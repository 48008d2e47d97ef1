#include "placement/set_ground.hpp"

namespace boxroom {

BlockScores scores_of(const SetVerdicts& v, const ScoreWeights& w) {
    const float spread = static_cast<float>(w.spread),
                unevenness = static_cast<float>(w.unevenness),
                balance = static_cast<float>(w.balance), level = static_cast<float>(w.level);
    BlockScores scores;
    for (int i = 0; i < lane_count; ++i)
        scores[i] = spread * v.spread[i] + unevenness * v.unevenness[i] + balance * v.balance[i] -
                    level * v.level[i];
    return scores;
}

}  // namespace boxroom
