#pragma once
#include <algorithm>
#include <array>
#include <span>

#include "placement/set_search.hpp"

namespace boxroom {

/// What all ways of searching share.
struct SetGround {
    const SetKernel& kernel;
    const SetRules& rules;
    const ScoreWeights& weights;
    int subs;

    bool clash(int a, int b) const {
        return rules.clash[static_cast<std::size_t>(a) * kernel.size() + b] != 0;
    }
    bool clash(int spot, std::span<const int> set) const {
        return std::any_of(set.begin(), set.end(), [&](int other) { return clash(spot, other); });
    }
};

/// Of the sixteen sets of a block: a weighted sum of what was judged.
using BlockScores = std::array<float, lane_count>;
BlockScores scores_of(const SetVerdicts& verdicts, const ScoreWeights& weights);

/// The spots of a block from `from` on that may join `others`, by see(spot).
template <typename See>
void those_that_may_join(const SetGround& at, std::span<const int> others, int block, int from,
                         const See& see) {
    const int first = block * lane_count;
    const int last = std::min(first + lane_count, at.kernel.size());
    for (int spot = std::max(first, from); spot < last; ++spot)
        if (!at.clash(spot, others)) see(spot);
}

/// The sets that `others` make with one more spot, by `see(set)`; spots below `from` are left out.
template <typename See>
void with_one_more(const SetGround& at, std::span<const int> others, const SetKernel::Base& base,
                   int block, int from, SetKernel::Scratch& scratch, const See& see) {
    SetVerdicts v;
    at.kernel.judge(base, block, scratch, v);
    const BlockScores scores = scores_of(v, at.weights);
    those_that_may_join(at, others, block, from, [&](int spot) {
        const int i = spot - block * lane_count;
        FoundSet found;
        std::copy(others.begin(), others.end(), found.spot.begin());
        found.spot[others.size()] = spot;
        found.spread_db = v.spread[i], found.unevenness_db = v.unevenness[i];
        found.balance_db = v.balance[i], found.level_db = v.level[i], found.score = scores[i];
        see(found);
    });
}

}  // namespace boxroom
