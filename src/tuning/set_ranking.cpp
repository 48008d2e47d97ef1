#include "tuning/set_ranking.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>

#include "base/error.hpp"
#include "placement/set_rules.hpp"
#include "placement/spot_fields.hpp"
#include "tuning/settings.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

constexpr int most_tuned = 60;        // sets that get settings and an equaliser
constexpr double same_advice = 0.30;  // [m]

double now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

}  // namespace

/// The floor of one room for one box: where it fits and what it does from there.
struct SetRanker::Floor {
    const Scenario& scenario;
    const Driver& driver;
    ClosedBox box;
    Enclosure outer;
    SpotGrid grid;
    TransferImpedance<float> z;
    std::vector<Complex> source;  ///< U (F)
    std::vector<int> spots;       ///< the grid's numbers of those that fit

    Floor(const Scenario& s, const Driver& d, const ClosedBox& b)
        : scenario(s),
          driver(d),
          box(b),
          outer(enclosure(box.volume, s.enclosure)),
          grid(s, outer),
          z(SpotFields(s, grid, box.volume, box.volume).at(box.volume)),
          source(volume_velocity(d, b, s.frequency, s.air)) {
        for (int spot = 0; spot < grid.size(); ++spot)
            if (grid.fits(spot, outer)) spots.push_back(spot);
        if (spots.empty())
            throw Error("[spots]", "the box fits nowhere in this room",
                        "loosen [[keep_out]], [spots] gap, seat_clearance or tallest, or take a "
                        "smaller box");
    }

    std::vector<double> source_power() const {
        std::vector<double> power;
        for (const Complex& u : source) power.push_back(std::norm(u));
        return power;
    }

    std::vector<Complex> pressure(const FoundSet& set, int subs) const {
        std::vector<Complex> p;
        p.reserve(z.frequencies * z.receivers * subs);
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s)
                for (int k = 0; k < subs; ++k)
                    p.push_back(Complex(z.at(f, s, spots[set.spot[k]])) * source[f]);
        return p;
    }

    /// Z (F,S,K) from acoustic centres that are spots of this floor.
    std::vector<Complex> from(const std::vector<Point>& positions) const {
        std::vector<int> spot;
        for (const Point& p : positions)
            spot.push_back(*std::ranges::min_element(spots, {}, [&](int n) {
                const Point c = grid.centre(n, outer);
                return std::hypot(c.x - p.x, c.y - p.y, c.z - p.z);
            }));
        std::vector<Complex> out;
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s)
                for (const int n : spot) out.push_back(Complex(z.at(f, s, n)));
        return out;
    }

    RankedSet places(const FoundSet& found, int subs) const {
        RankedSet set;
        for (int k = 0; k < subs; ++k) {
            const int spot = spots[found.spot[k]];
            set.positions.push_back(grid.centre(spot, outer));
            set.footprints.push_back(grid.footprint(spot, outer));
            set.facings.push_back(facing_name(grid.facing(spot)));
        }
        set.settings.resize(subs);
        return set;
    }
};

namespace {

/// Whether every box of one set stands near one of the other: the same advice twice.
bool near(const RankedSet& a, const RankedSet& b) {
    std::vector<bool> taken(b.footprints.size());
    for (const Point& p : a.footprints) {
        int nearest = -1;
        double shortest = same_advice;
        for (std::size_t n = 0; n < b.footprints.size(); ++n) {
            const double d = std::hypot(p.x - b.footprints[n].x, p.y - b.footprints[n].y);
            if (!taken[n] && d < shortest - 1e-9) nearest = static_cast<int>(n), shortest = d;
        }
        if (nearest < 0) return false;
        taken[nearest] = true;
    }
    return true;
}

/// pressure: of each sub at the seats, neutrally set.
void tune(const Judge& judge, const Scenario& scenario, std::vector<Complex> pressure,
          RankedSet& set) {
    const int subs = static_cast<int>(set.positions.size());
    const SettingsProblem problem(judge, scenario.weights, std::move(pressure), subs);
    set.plain = problem.criteria(set.settings);
    set.settings = best_settings(problem, scenario.steps);
    set.criteria = problem.criteria(set.settings);
    const auto power = problem.power(set.settings);
    set.equaliser = equalise(judge, judge.seat_average(power));
    const auto after = equalised(judge, power, set.equaliser);
    judge.judge_seats(after, set.after);
    judge.judge_average(judge.seat_average(after), set.after);
    set.equalised = true;
}

/// Sets that no other beats by a visible step (0.1 dB, 0.5 dB of level), by spread.
std::vector<RankedSet> front_of(std::vector<RankedSet> sets) {
    const auto beats = [](const Criteria& a, const Criteria& b) {
        const bool no_worse = a.spread_db <= b.spread_db && a.unevenness_db <= b.unevenness_db &&
                              a.level_db >= b.level_db;
        return no_worse && (a.spread_db < b.spread_db || a.unevenness_db < b.unevenness_db ||
                            a.level_db > b.level_db);
    };
    const auto alike = [](const Criteria& a, const Criteria& b) {
        return std::abs(a.spread_db - b.spread_db) < 0.1 &&
               std::abs(a.unevenness_db - b.unevenness_db) < 0.1 &&
               std::abs(a.level_db - b.level_db) < 0.5;
    };
    std::ranges::stable_sort(sets, {}, [](const RankedSet& s) { return s.criteria.score; });
    std::vector<RankedSet> front;
    for (const RankedSet& set : sets)
        if (std::ranges::none_of(
                sets, [&](const RankedSet& o) { return beats(o.criteria, set.criteria); }) &&
            std::ranges::none_of(
                front, [&](const RankedSet& o) { return alike(o.criteria, set.criteria); }))
            front.push_back(set);
    std::ranges::stable_sort(front, {}, [](const RankedSet& s) { return s.criteria.spread_db; });
    return front;
}

void give_scores(std::vector<RankedSet>& sets, double loudest, const ScoreWeights& weights) {
    for (RankedSet& set : sets) {
        set.criteria.score = score(set.criteria, loudest, weights);
        set.plain.score = score(set.plain, loudest, weights);
        set.after.score = score(set.after, loudest, weights);
    }
}

}  // namespace

std::vector<PlacedSub> placed(const RankedSet& set) {
    std::vector<PlacedSub> subs;
    for (std::size_t k = 0; k < set.positions.size(); ++k) {
        const SubSetting& s = set.settings[k];
        subs.push_back({set.positions.size() == 1 ? "sub" : "sub " + std::to_string(k + 1),
                        set.positions[k], s.gain_db, s.delay, s.polarity});
    }
    return subs;
}

SetRanker::SetRanker(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                     Timings& timings)
    : timings_(timings) {
    const double start = now();
    floor_ = std::make_unique<Floor>(scenario, driver, box);
    timings_["solve"] += now() - start;
}

SetRanker::~SetRanker() = default;

Listening SetRanker::listen(const RankedSet& set) const {
    return listen_through(floor_->scenario, floor_->driver, floor_->box, placed(set),
                          floor_->from(set.positions));
}

SetRanking SetRanker::rank(int subs) {
    // 1. Every set with all subs alike.
    double start = now();
    const Scenario& scenario = floor_->scenario;
    const Floor& floor = *floor_;
    const Judge judge(scenario.frequency, scenario.seats, scenario.target);
    const SetKernel kernel(judge, floor.z, floor.source_power(), floor.spots);
    SetRules rules = make_set_rules(scenario, floor.grid, floor.outer, floor.spots);
    SetSearchOptions options;
    if (subs == 1) {  // every spot counts
        options.keep = kernel.size();
        for (int n = 0; n < kernel.size(); ++n) rules.cell[n] = n;
        rules.first.assign(kernel.size(), 1);
        rules.symmetric = false;
    }
    const SetSearch found = search_sets(kernel, rules, scenario.weights, subs, options);
    timings_["search"] += now() - start;
    start = now();

    // 2. The best of them, and those of the front, each different from the others.
    SetRanking ranking;
    ranking.subs = subs;
    ranking.box_volume = floor.box.volume, ranking.qtc = floor.box.qtc;
    ranking.outer_width = floor.outer.width, ranking.outer_depth = floor.outer.depth;
    ranking.outer_height = floor.outer.height;
    ranking.proven = found.exhaustive, ranking.method = found.method;
    std::vector<const FoundSet*> chosen;
    for (const FoundSet& one : found.best) {
        const RankedSet set = floor.places(one, subs);
        if (static_cast<int>(chosen.size()) == most_tuned ||
            std::ranges::any_of(ranking.sets, [&](const RankedSet& o) { return near(set, o); }))
            continue;
        chosen.push_back(&one);
        ranking.sets.push_back(set);
    }
#pragma omp parallel for schedule(dynamic, 1)
    for (std::size_t n = 0; n < chosen.size(); ++n)
        tune(judge, scenario, floor.pressure(*chosen[n], subs), ranking.sets[n]);

    // 3. In order of what they are worth now.
    std::vector<RankedSet> candidates = ranking.sets;
    for (const FoundSet& one : found.front) {
        RankedSet set = floor.places(one, subs);
        const SettingsProblem problem(judge, scenario.weights, floor.pressure(one, subs), subs);
        set.criteria = set.plain = problem.criteria(set.settings);
        candidates.push_back(set);
    }
    double loudest = -1e9;
    for (const RankedSet& set : candidates) loudest = std::max(loudest, set.criteria.level_db);
    give_scores(ranking.sets, loudest, scenario.weights);
    give_scores(candidates, loudest, scenario.weights);
    std::ranges::stable_sort(ranking.sets, {}, [](const RankedSet& s) { return s.criteria.score; });
    for (std::size_t n = 0; n < ranking.sets.size(); ++n)
        ranking.sets[n].rank = static_cast<int>(n) + 1;
    ranking.front = front_of(std::move(candidates));
    timings_["settings"] += now() - start;
    return ranking;
}

SetRanking rank_sets(const Scenario& scenario, const Driver& driver, const ClosedBox& box, int subs,
                     Timings& timings) {
    return SetRanker(scenario, driver, box, timings).rank(subs);
}

}  // namespace boxroom
