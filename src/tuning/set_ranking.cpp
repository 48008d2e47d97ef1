#include "tuning/set_ranking.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/clock.hpp"
#include "base/error.hpp"
#include "base/number.hpp"
#include "base/parallel.hpp"
#include "placement/cone_load.hpp"
#include "placement/ringing.hpp"
#include "placement/set_rules.hpp"
#include "placement/spot_fields.hpp"
#include "tuning/set_choice.hpp"
#include "tuning/settings.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

constexpr int most_tuned = 60;  // sets that rank() gives settings and an equaliser

/// One kind of box: where it fits and what it does from there.
struct Kind {
    ClosedBox box;
    Sides outer;
    SpotGrid grid;
    std::vector<int> spots;       ///< the grid's numbers of those that fit
    TransferImpedance<float> z;   ///< of these
    std::vector<Complex> source;  ///< U (F)

    Kind(const Scenario& s, const Driver& d, const ClosedBox& b)
        : box(b),
          outer(enclosure(box.volume, s.design.enclosure)),
          grid(s, outer),
          source(volume_velocity(d, b, s.acoustics.frequency, s.acoustics.air)) {
        std::vector<std::uint8_t> fits;
        for (int spot = 0; spot < grid.size(); ++spot) {
            fits.push_back(grid.fits(spot, outer));
            if (fits.back()) spots.push_back(spot);
        }
        if (spots.empty())
            throw Error("[spots]",
                        s.wanted.set_volumes.empty()
                            ? "the box fits nowhere in this room"
                            : "the box of " + number(1e3 * box.volume, 1) +
                                  " L of [search] volumes fits nowhere in this room",
                        "loosen [[keep_out]], [spots] gap, seat_clearance or tallest, or take a "
                        "smaller box");
        z = SpotFields(s, grid, box.volume, box.volume, fits).at(box.volume);
    }
};

}  // namespace

/// The floor of one room for boxes of one kind or several: each kind on each of its spots is a
/// candidate.
struct SetRanker::Floor {
    struct Candidate {
        int kind, number;  ///< among the spots of that kind
    };
    const Scenario& scenario;
    const Driver& driver;
    std::vector<Kind> kinds;
    std::vector<Candidate> candidates;
    TransferImpedance<float> z;  ///< of the candidates, as if all had the first kind's U

    Floor(const Scenario& s, const Driver& d, const ClosedBox& b) : scenario(s), driver(d) {
        kinds.reserve(s.wanted.set_volumes.size() + 1);
        if (s.wanted.set_volumes.empty()) kinds.emplace_back(s, d, b);
        for (const double volume : s.wanted.set_volumes)
            kinds.emplace_back(s, d, closed_box(d, volume, s.design.filling));
        for (std::size_t k = 0; k < kinds.size(); ++k)
            for (std::size_t n = 0; n < kinds[k].spots.size(); ++n)
                candidates.push_back({static_cast<int>(k), static_cast<int>(n)});
        z = {kinds[0].z.frequencies, kinds[0].z.receivers, candidates.size()};
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t r = 0; r < z.receivers; ++r)
                for (std::size_t n = 0; n < candidates.size(); ++n) {
                    const auto [kind, number] = candidates[n];
                    const auto there = kinds[kind].z.at(f, r, number);
                    z.at(f, r, n) = kind == 0 ? there
                                              : there * std::complex<float>(kinds[kind].source[f] /
                                                                            kinds[0].source[f]);
                }
    }

    bool mixed() const { return !scenario.wanted.set_volumes.empty(); }

    std::vector<int> numbers() const {
        std::vector<int> all(candidates.size());
        std::iota(all.begin(), all.end(), 0);
        return all;
    }

    SetRules rules() const {
        if (kinds.size() == 1)
            return make_set_rules(scenario, kinds[0].grid, kinds[0].outer, kinds[0].spots);
        std::vector<Standing> boxes;
        for (const auto& [kind, number] : candidates) {
            const Kind& of = kinds[kind];
            const int spot = of.spots[number];
            boxes.push_back(
                {of.grid.footprint(spot, of.outer), turned(of.outer, of.grid.facing(spot))});
        }
        return rules_of_boxes(scenario, boxes);
    }

    std::vector<double> source_power() const {
        std::vector<double> power;
        for (const Complex& u : kinds[0].source) power.push_back(std::norm(u));
        return power;
    }

    ByFrequency<Complex> pressure(const FoundSet& set, int subs) const {
        ByFrequency<Complex> p(z.frequencies, z.receivers, subs);
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s)
                for (int k = 0; k < subs; ++k)
                    p(f, s, k) = Complex(z.at(f, s, set.spot[k])) * kinds[0].source[f];
        return p;
    }

    /// Z (F,S,K) from where the boxes of a set stand.
    ByFrequency<Complex> from(const RankedSet& set) const {
        std::vector<std::pair<const Kind*, int>> where;
        for (std::size_t k = 0; k < set.positions.size(); ++k) {
            const Kind& of = *std::ranges::min_element(kinds, {}, [&](const Kind& kind) {
                return mixed() ? std::abs(kind.box.volume - set.volumes[k]) : 0.0;
            });
            const Point p = set.positions[k];
            const auto nearest = std::ranges::min_element(of.spots, {}, [&](int n) {
                const Point c = of.grid.centre(n, of.outer);
                return std::hypot(c.x - p.x, c.y - p.y, c.z - p.z);
            });
            where.emplace_back(&of, nearest - of.spots.begin());
        }
        ByFrequency<Complex> out(z.frequencies, z.receivers, where.size());
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s)
                for (std::size_t k = 0; k < where.size(); ++k)
                    out(f, s, k) = where[k].first->z.at(f, s, where[k].second);
        return out;
    }

    RankedSet places(const FoundSet& found, int subs) const {
        RankedSet set;
        for (int k = 0; k < subs; ++k) {
            const auto [kind, number] = candidates[found.spot[k]];
            const Kind& of = kinds[kind];
            const int spot = of.spots[number];
            set.positions.push_back(of.grid.centre(spot, of.outer));
            set.footprints.push_back(of.grid.footprint(spot, of.outer));
            set.facings.push_back(of.grid.facing(spot));
            if (mixed()) set.volumes.push_back(of.box.volume);
        }
        set.settings.resize(subs);
        return set;
    }
};

namespace {

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
    floor_ = std::make_unique<Floor>(scenario, driver, box);
    timings_["solve"] += seconds_now() - start;
}

SetRanker::~SetRanker() = default;

Listening SetRanker::listen(const RankedSet& set) const {
    const Scenario& scenario = floor_->scenario;
    const auto subs = placed(set);
    return listen_through(
        scenario, floor_->driver, floor_->kinds[0].box, subs, floor_->from(set),
        asked_cone_impedance(scenario, floor_->driver, subs, scenario.acoustics.frequency));
}

namespace {

/// Which sets are worth tuning: the best, each different from the others.
std::vector<const FoundSet*> different(const SetSearch& found, int most, const auto& places,
                                       std::vector<RankedSet>& sets) {
    std::vector<const FoundSet*> chosen;
    for (const FoundSet& one : found.best) {
        if (static_cast<int>(chosen.size()) == most) break;
        const RankedSet set = places(one);
        if (std::ranges::any_of(sets, [&](const RankedSet& o) { return same_advice(set, o); }))
            continue;
        chosen.push_back(&one);
        sets.push_back(set);
    }
    return chosen;
}

/// Every set of so many with all subs alike; of single boxes every spot is kept.
SetSearch search_alike(const SetKernel& kernel, SetRules rules, const ScoreWeights& weights,
                       int subs) {
    SetSearchOptions options;
    if (subs == 1) {
        options.keep = kernel.size();
        for (int n = 0; n < kernel.size(); ++n) rules.cell[n] = n;
        rules.first.assign(kernel.size(), 1);
        rules.symmetric = false;
    }
    return search_sets(kernel, rules, weights, subs, options);
}

}  // namespace

/// What both ways of choosing begin with.
struct SetRanker::Search {
    Judge judge;
    SetSearch found;
};

SetRanker::Search SetRanker::search(int subs) const {
    const double start = seconds_now();
    const Scenario& scenario = floor_->scenario;
    Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const SetKernel kernel(judge, floor_->z, floor_->source_power(), floor_->numbers());
    Search out{std::move(judge),
               search_alike(kernel, floor_->rules(), scenario.judgement.weights, subs)};
    timings_["search"] += seconds_now() - start;
    return out;
}

RankedSet SetRanker::best(int subs, int tuned) {
    const Search looked = search(subs);
    const Judge& judge = looked.judge;
    const SetSearch& found = looked.found;
    const double start = seconds_now();
    const Scenario& scenario = floor_->scenario;
    const Floor& floor = *floor_;
    std::vector<RankedSet> sets;
    const auto chosen = different(
        found, tuned, [&](const FoundSet& one) { return floor.places(one, subs); }, sets);
    for_each_in_parallel(chosen.size(), 1, [&](std::size_t n) {
        set_dials(judge, scenario, floor.pressure(*chosen[n], subs), sets[n]);
    });
    double loudest = -1e9;
    for (const RankedSet& set : sets) loudest = std::max(loudest, set.criteria.level_db);
    give_scores(sets, loudest, scenario.judgement.weights);
    const std::size_t first =
        std::ranges::min_element(sets, {}, [](const RankedSet& s) { return s.criteria.score; }) -
        sets.begin();
    RankedSet& best = sets[first];
    add_equaliser(
        judge,
        SettingsProblem(judge, scenario.judgement.weights, floor.pressure(*chosen[first], subs)),
        best);
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    best.criteria.ringing_s = best.after.ringing_s = ringing.excess(listen(best));
    best.rank = 1;
    timings_["settings"] += seconds_now() - start;
    return best;
}

SetRanking SetRanker::rank(int subs) {
    // 1. Every set with all subs alike.
    const Search looked = search(subs);
    const Judge& judge = looked.judge;
    const SetSearch& found = looked.found;
    const double start = seconds_now();
    const Scenario& scenario = floor_->scenario;
    const Floor& floor = *floor_;
    const ScoreWeights& weights = scenario.judgement.weights;

    // 2. The best of them with settings and an equaliser of their own.
    SetRanking ranking;
    ranking.subs = subs;
    const Kind& kind = floor.kinds[0];
    ranking.box_volume = kind.box.volume, ranking.qtc = kind.box.qtc, ranking.outer = kind.outer;
    ranking.proven = found.exhaustive, ranking.method = found.method;
    const auto places = [&](const FoundSet& one) { return floor.places(one, subs); };
    const auto chosen = different(found, most_tuned, places, ranking.sets);
    for_each_in_parallel(chosen.size(), 1, [&](std::size_t n) {
        RankedSet& set = ranking.sets[n];
        add_equaliser(judge, set_dials(judge, scenario, floor.pressure(*chosen[n], subs), set),
                      set);
    });

    // 3. Ringing of those that are listed: the search, which looks at millions, leaves it out.
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    const auto add_ringing = [&](RankedSet& set) {
        set.criteria.ringing_s = set.after.ringing_s = ringing.excess(listen(set));
    };
    std::ranges::for_each(ranking.sets, add_ringing);

    // 4. In order of what they are worth now, and the front with those that the search kept for it.
    std::vector<RankedSet> candidates = ranking.sets;
    for (const FoundSet& one : found.front) candidates.push_back(places(one));
    for_each_in_parallel(found.front.size(), 16, [&](std::size_t n) {
        RankedSet& set = candidates[ranking.sets.size() + n];
        const SettingsProblem problem(judge, weights, floor.pressure(found.front[n], subs));
        set.criteria = set.plain = problem.criteria(set.settings);
    });
    double loudest = -1e9;
    for (const RankedSet& set : candidates) loudest = std::max(loudest, set.criteria.level_db);
    give_scores(ranking.sets, loudest, weights);
    give_scores(candidates, loudest, weights);
    std::ranges::stable_sort(ranking.sets, {}, [](const RankedSet& s) { return s.criteria.score; });
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
