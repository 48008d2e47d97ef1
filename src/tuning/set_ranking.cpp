#include "tuning/set_ranking.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/clock.hpp"
#include "base/parallel.hpp"
#include "placement/cone_load.hpp"
#include "placement/ringing.hpp"
#include "tuning/set_choice.hpp"
#include "tuning/set_floor.hpp"
#include "tuning/settings.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

constexpr int most_tuned = 60;  // sets that rank() gives settings and an equaliser

/// The settings that a set should have, and what it is worth with them. `pressure` is that of each
/// sub at the seats, neutrally set.
SettingsProblem set_dials(const Judge& judge, const Scenario& scenario,
                          const ByFrequency<Complex>& pressure, RankedSet& set) {
    SettingsProblem problem(judge, scenario.judgement.weights, pressure);
    set.plain = problem.criteria(set.settings);
    set.settings = best_settings(problem, scenario.wanted.steps);
    set.criteria = problem.criteria(set.settings);
    return problem;
}

void add_equaliser(const Judge& judge, const SettingsProblem& problem, RankedSet& set) {
    const auto power = problem.power(set.settings);
    set.equaliser = equalise(judge, judge.seat_average(power));
    const auto after = equalised(judge, power, set.equaliser);
    judge.judge_seats(after, set.after);
    judge.judge_average(judge.seat_average(after), set.after);
    set.equalised = true;
}

/// What sets are put in order by. Mirror images of each other differ by rounding alone: those
/// closer than this stay as the search found them.
double by_score(const RankedSet& set) {
    constexpr double closest = 1e-4;
    return std::round(set.criteria.score / closest);
}

/// Sets are searched and set without an eye on ringing, so it has no part in their score.
void give_scores(std::vector<RankedSet>& sets, double loudest, ScoreWeights weights) {
    weights.ringing = 0;
    for (RankedSet& set : sets) {
        set.criteria.score = score(set.criteria, loudest, weights);
        set.plain.score = score(set.plain, loudest, weights);
        set.after.score = score(set.after, loudest, weights);
    }
}

}  // namespace

std::vector<PlacedSub> placed(const RankedSet& set) {
    std::vector<PlacedSub> subs;
    for (std::size_t k = 0; k < set.positions.size(); ++k)
        subs.push_back({set.positions.size() == 1 ? "sub" : "sub " + std::to_string(k + 1),
                        set.positions[k], set.settings[k],
                        set.volumes.empty() ? 0 : set.volumes[k]});
    return subs;
}

SetRanker::SetRanker(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                     Timings& timings)
    : timings_(timings) {
    const double start = seconds_now();
    floor_ = std::make_unique<SetFloor>(scenario, driver, box);
    timings_["solve"] += seconds_now() - start;
}

const RingingModes& SetRanker::ringing() {
    const Scenario& scenario = floor_->scenario;
    if (!ringing_)
        ringing_ = std::make_unique<RingingModes>(scenario.acoustics, scenario.seats,
                                                  scenario.judgement.target.band);
    return *ringing_;
}

Listening SetRanker::listen(const RankedSet& set) const {
    const Scenario& scenario = floor_->scenario;
    const auto subs = placed(set);
    return listen_through(
        scenario, floor_->driver, floor_->kinds[0].box, subs, floor_->from(set),
        asked_cone_impedance(scenario, floor_->driver, subs, scenario.acoustics.frequency));
}

namespace {

/// Which sets are worth tuning: the best, each different from the others.
std::vector<RankedSet> different(const SetSearch& found, int most, const auto& places) {
    std::vector<RankedSet> sets;
    for (const FoundSet& one : found.best) {
        if (static_cast<int>(sets.size()) == most) break;
        RankedSet set = places(one);
        if (std::ranges::none_of(sets, [&](const RankedSet& o) { return same_advice(set, o); }))
            sets.push_back(std::move(set));
    }
    return sets;
}

/// Every set of so many with all subs alike; of single boxes every spot is kept.
SetSearch search_alike(const SetKernel& kernel, SetRules rules, const ScoreWeights& weights,
                       int subs, SetSearchOptions options) {
    if (subs == 1) {
        options.keep = kernel.size();
        for (int n = 0; n < kernel.size(); ++n) rules.cell[n] = n;
        rules.first.assign(kernel.size(), 1);
        rules.symmetric = false;
    }
    return search_sets(kernel, rules, weights, subs, options);
}

}  // namespace

/// What searches for any number of subs have in common.
struct SetRanker::Ground {
    explicit Ground(const SetFloor& floor)
        : judge(floor.scenario.acoustics.frequency, floor.scenario.seats,
                floor.scenario.judgement.target),
          kernel(judge, floor.z(), floor.source_power(), floor.numbers()),
          rules(floor.rules()) {}
    Judge judge;
    SetKernel kernel;
    SetRules rules;
};

SetRanker::~SetRanker() = default;

SetSearch SetRanker::search(int subs, const SetSearchOptions& options) {
    const double start = seconds_now();
    if (!ground_) ground_ = std::make_unique<Ground>(*floor_);
    SetSearch found = search_alike(ground_->kernel, ground_->rules,
                                   floor_->scenario.judgement.weights, subs, options);
    timings_["search"] += seconds_now() - start;
    return found;
}

std::vector<RankedSet> SetRanker::best_different(int subs, int most, SetSearchOptions options) {
    const auto places = [&](const FoundSet& one) { return floor_->places(one, subs); };
    options.front = false;
    // A short list spares judging most sets to the end; it begins like the long one.
    const int longest = options.keep;
    options.keep = std::min(longest, 8 * most);
    std::vector<RankedSet> sets = different(search(subs, options), most, places);
    if (static_cast<int>(sets.size()) < most && options.keep < longest) {
        options.keep = longest;
        sets = different(search(subs, options), most, places);
    }
    return sets;
}

RankedSet SetRanker::best(int subs, int tuned, const SetSearchOptions& options) {
    std::vector<RankedSet> sets = best_different(subs, tuned, options);
    const Judge& judge = ground_->judge;
    const double start = seconds_now();
    const Scenario& scenario = floor_->scenario;
    const SetFloor& floor = *floor_;
    for_each_in_parallel(sets.size(), 1, [&](std::size_t n) {
        set_dials(judge, scenario, floor.pressure(sets[n]), sets[n]);
    });
    double loudest = -1e9;
    for (const RankedSet& set : sets) loudest = std::max(loudest, set.criteria.level_db);
    give_scores(sets, loudest, scenario.judgement.weights);
    const std::size_t first = std::ranges::min_element(sets, {}, by_score) - sets.begin();
    RankedSet& best = sets[first];
    add_equaliser(judge, SettingsProblem(judge, scenario.judgement.weights, floor.pressure(best)),
                  best);
    const RingingModes& ringing = this->ringing();
    best.criteria.ringing_s = best.after.ringing_s = ringing.excess(listen(best));
    best.rank = 1;
    timings_["settings"] += seconds_now() - start;
    return best;
}

SetRanking SetRanker::rank(int subs) {
    // 1. Every set with all subs alike.
    const SetSearch found = search(subs, {});
    const Judge& judge = ground_->judge;
    const double start = seconds_now();
    const Scenario& scenario = floor_->scenario;
    SetFloor& floor = *floor_;
    const ScoreWeights& weights = scenario.judgement.weights;

    // 2. The best of them with settings and an equaliser of their own.
    SetRanking ranking;
    ranking.subs = subs;
    const BoxKind& kind = floor.kinds[0];
    ranking.box_volume = kind.box.volume, ranking.qtc = kind.box.qtc, ranking.outer = kind.outer;
    ranking.proven = found.exhaustive, ranking.method = found.method;
    const auto places = [&](const FoundSet& one) { return floor.places(one, subs); };
    ranking.sets = different(found, most_tuned, places);
    std::vector<RankedSet> front;
    for (const FoundSet& one : found.front) front.push_back(places(one));
    floor.solve_in_full(ranking.sets, front);
    for_each_in_parallel(ranking.sets.size(), 1, [&](std::size_t n) {
        RankedSet& set = ranking.sets[n];
        add_equaliser(judge, set_dials(judge, scenario, floor.pressure(set), set), set);
    });

    // 3. Ringing of those that are listed: the search, which looks at millions, leaves it out.
    const RingingModes& ringing = this->ringing();
    const auto add_ringing = [&](RankedSet& set) {
        set.criteria.ringing_s = set.after.ringing_s = ringing.excess(listen(set));
    };
    std::ranges::for_each(ranking.sets, add_ringing);

    // 4. In order of what they are worth now, and the front with those that the search kept for it.
    for_each_in_parallel(front.size(), 16, [&](std::size_t n) {
        RankedSet& set = front[n];
        const SettingsProblem problem(judge, weights, floor.pressure(set));
        set.criteria = set.plain = problem.criteria(set.settings);
    });
    std::vector<RankedSet> candidates = ranking.sets;
    candidates.insert(candidates.end(), front.begin(), front.end());
    double loudest = -1e9;
    for (const RankedSet& set : candidates) loudest = std::max(loudest, set.criteria.level_db);
    give_scores(ranking.sets, loudest, weights);
    give_scores(candidates, loudest, weights);
    std::ranges::stable_sort(ranking.sets, {}, by_score);
    for (std::size_t n = 0; n < ranking.sets.size(); ++n)
        ranking.sets[n].rank = static_cast<int>(n) + 1;
    ranking.front = front_of(std::move(candidates));
    std::ranges::for_each(ranking.front, add_ringing);
    timings_["settings"] += seconds_now() - start;
    return ranking;
}

SetRanking rank_sets(const Scenario& scenario, const Driver& driver, const ClosedBox& box, int subs,
                     Timings& timings) {
    return SetRanker(scenario, driver, box, timings).rank(subs);
}

}  // namespace boxroom
