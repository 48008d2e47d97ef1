#include "placement/every_set.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace boxroom {
namespace {

/// What the score of a set that was judged roughly may be off by.
float rough_score_error(const ScoreWeights& w) {
    return rough_error * static_cast<float>(w.spread + w.unevenness + w.balance + w.level);
}

/// What no set of a block scores less than, by a rough look; more than any where none may stand.
float least_score(const SetGround& at, std::span<const int> others, const SetKernel::Base& base,
                  int block, int from, SetKernel::Scratch& scratch) {
    SetVerdicts v;
    at.kernel.judge_roughly(base, block, scratch, v);
    const BlockScores scores = scores_of(v, at.weights);
    float least = HUGE_VALF;
    those_that_may_join(at, others, block, from, [&](int spot) {
        least = std::min(least, scores[spot - block * lane_count]);
    });
    return least - rough_score_error(at.weights);
}

/// Every set of spots with rising numbers out of `from`, whose last spot lies in `block`.
/// (Numbers rise within the set, so the block bounds the others too.)
struct Everything {
    const SetGround& at;
    int block;
    SetPool& pool;
    bool front;                           ///< whether the pool's is wanted
    std::vector<SetKernel::Base> base{};  ///< of the first spots of the set, by their number
    SetKernel::Scratch scratch{};
    double evaluations = 0;
    /// Sets that are judged when many have come together, the most promising first: after these
    /// the pool wants few of the others.
    struct Waiting {
        float least;  ///< score
        std::vector<int> others;
        int block, from;
    };
    std::vector<Waiting> waiting{};

    /// Those that begin with `first`; with any spot if it is negative.
    void begin(int first) {
        base.resize(at.subs);
        at.kernel.sum({}, base[0]);
        std::vector<int> set;
        if (first < 0) return extend(set, 0);
        extend_by(first, set);
    }

    void extend_by(int spot, std::vector<int>& set) {
        set.push_back(spot);
        base[set.size()] = base[set.size() - 1];
        at.kernel.add(spot, base[set.size()]);
        extend(set, spot + 1);
        set.pop_back();
    }

    void extend(std::vector<int>& set, int from) {
        if (static_cast<int>(set.size()) == at.subs - 1) {
            evaluations += lane_count * at.kernel.points();
            front ? judge(set, base[set.size()], block, from) : judge_later(set, from);
            return;
        }
        const int end = std::min((block + 1) * lane_count, at.kernel.size());
        for (int spot = from; spot < end; ++spot)
            if (!at.clash(spot, set)) extend_by(spot, set);
    }

    void judge(const std::vector<int>& others, const SetKernel::Base& sum, int with, int from) {
        with_one_more(at, others, sum, with, from, scratch, [&](const FoundSet& found) {
            pool.add(found);
            if (front) pool.add_front(found);
        });
    }

    void judge_later(const std::vector<int>& others, int from) {
        constexpr std::size_t many = 4096;
        const float least = least_score(at, others, base[others.size()], block, from, scratch);
        if (pool.wants(least)) waiting.push_back({least, others, block, from});
        if (waiting.size() == many) judge_those_waiting();
    }

    void judge_those_waiting() {
        std::ranges::sort(waiting, {}, &Waiting::least);
        SetKernel::Base sum;
        for (const auto& [least, others, with, from] : waiting) {
            if (!pool.wants(least)) break;
            at.kernel.sum(others, sum);
            judge(others, sum, with, from);
        }
        waiting.clear();
    }
};

}  // namespace

double look_at_every_set(const SetGround& at, SetPool& pool, int keep, bool front) {
    // One task for each first spot and block, the longest first.
    struct Task {
        int first, block;
    };
    std::vector<Task> tasks;
    for (int block = at.kernel.blocks() - 1; block >= 0; --block) {
        if (at.subs == 1) {
            tasks.push_back({-1, block});
            continue;
        }
        for (int first = 0; first < std::min((block + 1) * lane_count, at.kernel.size()); ++first)
            if (at.rules.first[first]) tasks.push_back({first, block});
    }
    double evaluations = 0;
#pragma omp parallel reduction(+ : evaluations)
    {
        SetPool mine(at.rules, at.subs, keep);
        Everything every{at, 0, mine, front};
#pragma omp for schedule(dynamic, 16)
        for (std::size_t t = 0; t < tasks.size(); ++t) {
            every.block = tasks[t].block;
            every.begin(tasks[t].first);
        }
        every.judge_those_waiting();
        evaluations += every.evaluations;
#pragma omp critical
        pool.merge(mine);
    }
    return evaluations;
}

}  // namespace boxroom
