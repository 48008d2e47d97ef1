#include "placement/set_search.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <random>

#include "base/error.hpp"
#include "placement/every_set.hpp"
#include "placement/set_ground.hpp"
#include "placement/set_pool.hpp"

namespace boxroom {
namespace {

double choose(int n, int k) {
    double sets = 1;
    for (int i = 0; i < k; ++i) sets *= static_cast<double>(n - i) / (i + 1);
    return sets;
}

/// A random set whose boxes do not clash; empty if none turns up.
std::vector<int> random_set(const SetGround& at, std::mt19937_64& random) {
    for (int attempt = 0; attempt < 1000; ++attempt) {
        std::vector<int> set;
        while (static_cast<int>(set.size()) < at.subs) {
            const int spot = static_cast<int>(random() % at.kernel.size());
            if (std::find(set.begin(), set.end(), spot) != set.end() || at.clash(spot, set)) break;
            set.push_back(spot);
        }
        if (static_cast<int>(set.size()) < at.subs) continue;
        std::ranges::sort(set);
        return set;
    }
    return {};
}

/// What the best set is that `others` make with one spot more, and remembers: exchanges from many
/// starts come by the same sets again and again.
class BestWithOneMore {
  public:
    BestWithOneMore(const SetGround& at, SetPool& pool) : at_(at), pool_(pool) {}

    const FoundSet& of(const std::vector<int>& others) {
        std::array<int, most_subs> key{-1, -1, -1, -1};
        std::copy(others.begin(), others.end(), key.begin());
        const auto [place, is_new] = known_.try_emplace(key);
        if (is_new) place->second = look(others);
        return place->second;
    }

  private:
    FoundSet look(const std::vector<int>& others) {
        at_.kernel.sum(others, base_);
        FoundSet best;
        best.score = 1e30f;
        for (int block = 0; block < at_.kernel.blocks(); ++block)
            with_one_more(at_, others, base_, block, 0, scratch_, [&](FoundSet found) {
                const int moved = found.spot[at_.subs - 1];
                if (std::find(others.begin(), others.end(), moved) != others.end()) return;
                for (int k = at_.subs - 1; k > 0 && found.spot[k] < found.spot[k - 1]; --k)
                    std::swap(found.spot[k], found.spot[k - 1]);
                if (pool_.wants(found.score)) pool_.add(found);
                pool_.add_front(found);
                if (better(found, best)) best = found;
            });
        return best;
    }

    const SetGround& at_;
    SetPool& pool_;
    SetKernel::Base base_;
    SetKernel::Scratch scratch_;
    std::map<std::array<int, most_subs>, FoundSet> known_;
};

/// Moves one spot at a time to the best of all places until that helps no more.
FoundSet exchange(const SetGround& at, std::vector<int> set, BestWithOneMore& look,
                  double& evaluations) {
    FoundSet best;
    best.score = 1e30f;
    for (int without = 0, idle = 0; idle < at.subs; without = (without + 1) % at.subs) {
        std::vector<int> others = set;
        others.erase(others.begin() + without);
        const FoundSet& here = look.of(others);
        evaluations += static_cast<double>(at.kernel.blocks()) * lane_count * at.kernel.points();
        // Sums in another order differ in the last digit: that is no gain.
        if (here.score < best.score - 1e-5f) {
            best = here;
            set.assign(here.spot.begin(), here.spot.begin() + at.subs);
            idle = 0;
        } else {
            ++idle;
        }
    }
    return best;
}

void exchange_from_many(const SetGround& at, const SetSearchOptions& options, SetPool& pool,
                        SetSearch& out) {
    std::vector<FoundSet> ends(options.starts);
    double evaluations = 0;
#pragma omp parallel reduction(+ : evaluations)
    {
        SetPool mine(at.rules, at.subs, options.keep);
        BestWithOneMore look(at, mine);
#pragma omp for schedule(dynamic, 1)
        for (int n = 0; n < options.starts; ++n) {
            std::mt19937_64 random(options.seed * 1000003 + n);
            const std::vector<int> set = random_set(at, random);
            if (!set.empty()) ends[n] = exchange(at, set, look, evaluations);
        }
#pragma omp critical
        pool.merge(mine);
    }
    out.evaluations += evaluations;
    out.starts = options.starts;
    const FoundSet best = *std::min_element(ends.begin(), ends.end(), [](auto& a, auto& b) {
        return (a.spot[0] < 0) != (b.spot[0] < 0) ? b.spot[0] < 0 : better(a, b);
    });
    for (const FoundSet& end : ends)
        out.arrivals += end.spot[0] >= 0 && end.score <= best.score + 1e-4f;
}

std::string words(const SetSearch& s, int spots, int subs) {
    char text[400];
    if (s.exhaustive)
        std::snprintf(text, sizeof text, "best of every set of %d out of %d spots%s", subs, spots,
                      s.method.c_str());
    else
        std::snprintf(
            text, sizeof text,
            "exchange from %d random sets of %d out of %d spots; %d of them ended at the best. "
            "That proves nothing, but every set of %d spots spread over the floor was tried "
            "too: %s",
            s.starts, subs, spots, s.arrivals, s.coarse_spots,
            s.coarse_found_better ? "one of them, improved by exchange, is the best"
                                  : "none is better");
    return text;
}

/// Every so many-th spot: as many as the budget lets every set be looked at.
std::vector<int> thinned(const SetKernel& kernel, int subs, double budget) {
    int count = kernel.size();
    while (count > subs && choose(count, subs) * kernel.points() > budget) count = count * 15 / 16;
    std::vector<int> spots;
    for (int n = 0; n < count; ++n)
        spots.push_back(static_cast<int>((n + 0.5) * kernel.size() / count));
    return spots;
}

/// Looks at every set of a few spots, then moves the best of them on the whole floor.
void check_coarsely(const SetGround& at, const SetSearchOptions& options, SetPool& pool,
                    SetSearch& out) {
    const std::vector<int> few = thinned(at.kernel, at.subs, options.budget / 8);
    out.coarse_spots = static_cast<int>(few.size());
    const FoundSet before = pool.best().front();
    const SetKernel small = at.kernel.only(few);
    SetRules rules;
    rules.clash.resize(few.size() * few.size());
    rules.first.assign(few.size(), 1);
    for (std::size_t i = 0; i < few.size(); ++i) {
        rules.cell.push_back(static_cast<int>(i));
        for (std::size_t j = 0; j < few.size(); ++j)
            rules.clash[i * few.size() + j] = at.clash(few[i], few[j]);
    }
    SetPool found(rules, at.subs, 32);
    out.evaluations += look_at_every_set({small, rules, at.weights, at.subs}, found, 32, false);
    BestWithOneMore look(at, pool);
    for (const FoundSet& set : found.best()) {
        std::vector<int> start;
        for (int k = 0; k < at.subs; ++k) start.push_back(few[set.spot[k]]);
        const FoundSet end = exchange(at, start, look, out.evaluations);
        if (end.score < before.score - 1e-4f) out.coarse_found_better = true;
    }
}

}  // namespace

SetSearch search_sets(const SetKernel& kernel, const SetRules& rules, const ScoreWeights& weights,
                      int subs, const SetSearchOptions& options) {
    const SetGround at{kernel, rules, weights, subs};
    SetPool pool(rules, subs, options.keep);
    SetSearch out;
    out.exhaustive = choose(kernel.size(), subs) * kernel.points() <= options.budget;
    if (out.exhaustive) {
        out.evaluations = look_at_every_set(at, pool, options.keep, options.front);
        if (rules.symmetric) out.method = " that are not mirror images of others";
    } else {
        exchange_from_many(at, options, pool, out);
        if (!pool.best().empty()) check_coarsely(at, options, pool, out);
    }
    out.best = pool.best();
    out.front = pool.front();
    if (out.best.empty())
        throw Error("[spots]", "there is no room for " + std::to_string(subs) + " boxes",
                    "ask for fewer subs, smaller boxes or fewer keep-outs");
    out.method = words(out, kernel.size(), subs);
    return out;
}

}  // namespace boxroom
