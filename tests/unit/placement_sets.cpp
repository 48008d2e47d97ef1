// Sets of spots: the fast judge against the exact one, the searches against brute force, and the
// layouts of textbooks.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <random>

#include "base/error.hpp"
#include "placement/set_search.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

/// A floor of made-up fields: random complex numbers are harder to sum than any room.
struct Floor {
    std::vector<double> frequency = logarithmic_grid({15, 200}, 24);
    std::vector<Seat> seats{{"a", {}, 1}, {"b", {}, 2}, {"c", {}, 0.5}};
    Target target;
    Judge judge;
    TransferImpedance<float> z;
    std::vector<double> source;
    std::vector<int> spots;

    explicit Floor(int count, unsigned seed = 7)
        : judge((target.slope = -1, frequency), seats, target),
          z(frequency.size(), seats.size(), count) {
        std::mt19937 random(seed);
        std::normal_distribution<float> normal;
        for (auto& value : z.value)
            value = 1e4f * std::complex<float>(normal(random), normal(random));
        for (double f : frequency) source.push_back(1e-9 / (1 + f * f / 900));
        for (int n = 0; n < count; ++n) spots.push_back(n);
    }
    SetKernel kernel() const { return {judge, z, source, spots}; }
    SetRules rules() const {
        SetRules r;
        r.clash.assign(spots.size() * spots.size(), 0);
        for (std::size_t n = 0; n < spots.size(); ++n) r.clash[n * spots.size() + n] = 1;
        r.first.assign(spots.size(), 1);
        r.cell = spots;
        return r;
    }
    Criteria exact(const std::vector<int>& set) const {
        ByFrequency<double> power(frequency.size(), seats.size());
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (std::size_t s = 0; s < seats.size(); ++s) {
                std::complex<double> p = 0;
                for (int spot : set) p += std::complex<double>(z.at(f, s, spot));
                power(f, s) = std::norm(p) * source[f];
            }
        Criteria c;
        judge.judge_seats(power, c);
        judge.judge_average(judge.seat_average(power), c);
        return c;
    }
};

const ScoreWeights weights;

double score_of(const Criteria& c) {
    return score(c, 0, weights);
}

}  // namespace

TEST_CASE("the fast logarithm, with every set of instructions") {
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        double worst = 0;
        float x[lane_count] = {}, y[lane_count];
        for (double e = -60; e < 60; e += 0.013) {
            for (int i = 0; i < lane_count; ++i)
                x[i] = static_cast<float>(std::exp2(e + 0.0007 * i));
            set_vectors(set).logarithm(x, y);
            for (int i = 0; i < lane_count; ++i)
                worst = std::max(worst, std::abs(y[i] - std::log2(static_cast<double>(x[i]))));
        }
        CHECK(worst < 2e-5);  // 1.5e-5 of the polynomial and the rounding of a float near 60
        CHECK(worst > 1e-6);  // or this test looks at nothing
        x[3] = 0;
        set_vectors(set).logarithm(x, y);
        CHECK(y[3] < -100);
    }
}

TEST_CASE("sixteen sets at a time agree with one at a time, with every set of instructions") {
    const Floor floor(40);
    const SetKernel kernel = floor.kernel();
    SetKernel::Base base;
    SetKernel::Scratch scratch;
    double roughest = 0;
    for (const VectorSet vectors : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512})
        for (const std::vector<int>& others : {std::vector<int>{}, {3}, {3, 17, 30}}) {
            if (!can_run(vectors)) continue;
            INFO(vector_instructions(vectors));
            kernel.sum(others, base);
            for (int spot = 0; spot < 40; ++spot) {
                SetVerdicts v;
                kernel.judge(base, spot / lane_count, scratch, v, set_vectors(vectors));
                std::vector<int> set = others;
                set.push_back(spot);
                const Criteria c = floor.exact(set);
                const int i = spot % lane_count;
                CHECK(v.spread[i] == Approx(c.spread_db).margin(0.002));
                CHECK(v.unevenness[i] == Approx(c.unevenness_db).margin(0.002));
                CHECK(v.balance[i] == Approx(c.balance_db).margin(0.002));
                CHECK(v.level[i] == Approx(c.level_db).margin(0.002));
                kernel.judge_roughly(base, spot / lane_count, scratch, v, set_vectors(vectors));
                for (const double off :
                     {v.spread[i] - c.spread_db, v.unevenness[i] - c.unevenness_db,
                      v.balance[i] - c.balance_db, v.level[i] - c.level_db})
                    roughest = std::max(roughest, std::abs(off));
            }
        }
    CHECK(roughest < rough_error);
    CHECK(roughest > 0.01);  // or the straight line between powers of two was not asked
}

TEST_CASE("looking at every set finds what brute force finds") {
    const Floor floor(22);
    double best2 = 1e9, best3 = 1e9;
    std::vector<int> set2, set3;
    for (int i = 0; i < 22; ++i)
        for (int j = i + 1; j < 22; ++j) {
            if (const double s = score_of(floor.exact({i, j})); s < best2) best2 = s, set2 = {i, j};
            for (int k = j + 1; k < 22; ++k)
                if (const double s = score_of(floor.exact({i, j, k})); s < best3)
                    best3 = s, set3 = {i, j, k};
        }
    const SetKernel kernel = floor.kernel();
    const auto two = search_sets(kernel, floor.rules(), weights, 2);
    const auto three = search_sets(kernel, floor.rules(), weights, 3);
    REQUIRE(two.exhaustive);
    CHECK(std::vector<int>(two.best[0].spot.begin(), two.best[0].spot.begin() + 2) == set2);
    CHECK(std::vector<int>(three.best[0].spot.begin(), three.best[0].spot.begin() + 3) == set3);
    CHECK(two.best[0].score == Approx(best2).margin(0.005));
    CHECK(two.best.size() == 22 * 21 / 2);  // each spot a cell of its own: nothing is left out
}

TEST_CASE("a list alone, for which most sets are judged roughly, is the list beside a front") {
    for (const int keep : {1, 30})
        for (const int subs : {2, 3}) {
            const Floor floor(subs == 2 ? 600 : 60);
            SetSearchOptions options;
            options.keep = keep;
            const auto with = search_sets(floor.kernel(), floor.rules(), weights, subs, options);
            options.front = false;
            const auto alone = search_sets(floor.kernel(), floor.rules(), weights, subs, options);
            CHECK(with.front.size() > 3);
            CHECK(alone.front.empty());
            REQUIRE(alone.best.size() == with.best.size());
            for (std::size_t n = 0; n < with.best.size(); ++n) {
                CHECK(alone.best[n].spot == with.best[n].spot);
                CHECK(alone.best[n].score == with.best[n].score);
            }
        }
}

TEST_CASE("exchange finds what looking at every set finds") {
    for (unsigned seed : {1u, 2u, 3u}) {
        const Floor floor(36, seed);
        const SetKernel kernel = floor.kernel();
        for (int subs : {2, 3, 4}) {
            const auto every = search_sets(kernel, floor.rules(), weights, subs);
            SetSearchOptions poor;
            poor.budget = 0;
            const auto moved = search_sets(kernel, floor.rules(), weights, subs, poor);
            REQUIRE(every.exhaustive);
            REQUIRE_FALSE(moved.exhaustive);
            CHECK(moved.best[0].spot == every.best[0].spot);
            CHECK(moved.arrivals >= 1);
        }
    }
}

TEST_CASE("boxes that touch are no set; too many boxes are an error") {
    const Floor floor(12);
    SetRules rules = floor.rules();
    const auto free = search_sets(floor.kernel(), rules, weights, 2).best[0].spot;
    rules.clash[free[0] * 12 + free[1]] = rules.clash[free[1] * 12 + free[0]] = 1;
    const auto other = search_sets(floor.kernel(), rules, weights, 2).best[0].spot;
    CHECK((other[0] != free[0] || other[1] != free[1]));
    rules.clash.assign(144, 1);
    CHECK_THROWS_AS(search_sets(floor.kernel(), rules, weights, 2), Error);
}

TEST_CASE("the front holds every set that nothing beats by a visible step") {
    const Floor floor(30);
    const auto found = search_sets(floor.kernel(), floor.rules(), weights, 2);
    SetSearchOptions all;
    all.keep = 1000;
    const auto every = search_sets(floor.kernel(), floor.rules(), weights, 2, all).best;
    REQUIRE(every.size() == 30 * 29 / 2);
    const auto beats = [](const FoundSet& a, const FoundSet& b, float step) {
        return a.spread_db < b.spread_db - step && a.unevenness_db < b.unevenness_db - step &&
               a.level_db > b.level_db + 5 * step;
    };
    CHECK(found.front.size() > 3);
    for (const FoundSet& a : found.front)
        for (const FoundSet& b : every) CHECK_FALSE(beats(b, a, 0.1f));
    for (const FoundSet& b : every) {  // and everything is beaten or nearly met by one of the front
        bool met = false;
        for (const FoundSet& a : found.front)
            met = met ||
                  (a.spread_db <= b.spread_db + 0.1f && a.unevenness_db <= b.unevenness_db + 0.1f &&
                   a.level_db >= b.level_db - 0.5f);
        CHECK(met);
    }
}
