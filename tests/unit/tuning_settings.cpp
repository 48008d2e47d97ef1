// Settings, equaliser and draws, against brute force and closed forms.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "base/error.hpp"
#include "tuning/biquad.hpp"
#include "tuning/equaliser.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"
#include "tuning/settings.hpp"

using namespace boxroom;
using Complex = std::complex<double>;
using std::numbers::pi;

namespace {

const std::vector<double> frequency = logarithmic_grid({20, 160}, 24);
const std::vector<Seat> seats{{"a", {}, 1}, {"b", {}, 1}, {"c", {}, 2}};
Target band() {
    Target t;
    t.band = {30, 120};
    return t;
}

/// Pressures with peaks and delays, as rooms have them; invented.
ByFrequency<Complex> pressures(int subs, unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> at(-1, 1);
    ByFrequency<Complex> p(frequency.size(), seats.size(), subs);
    std::vector<std::array<Complex, 3>> mode(seats.size() * subs);
    for (auto& m : mode) m = {Complex(at(random), at(random)), {at(random), 0}, {at(random), 0}};
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t n = 0; n < mode.size(); ++n) {
            const auto peak = [&](double f0, double q) {
                const double x = frequency[f] / f0;
                return 1.0 / Complex(1 - x * x, x / q);
            };
            p.at(f)[n] = 1.0 + mode[n][0] + mode[n][1] * peak(45, 6) + mode[n][2] * peak(90, 8);
        }
    return p;
}

Scenario room() {
    Scenario s;
    s.acoustics.room.width = 3.6, s.acoustics.room.length = 4.4, s.acoustics.room.height = 2.4;
    for (Wall& wall : s.acoustics.room.walls) wall = {{{9000, 0, 0}}};
    s.design.driver.fs = 27, s.design.driver.qts = 0.45, s.design.driver.vas = 0.038;
    s.design.box_volume = 0.025;
    s.seats = {{"a", {1.3, 3.0, 1.1}, 1}, {"b", {2.4, 2.8, 1.1}, 1}};
    s.judgement.target.band = {30, 100};
    s.wanted.spots.step = 0.6;
    s.acoustics.frequency = logarithmic_grid({20, 150}, 24);
    return s;
}

}  // namespace

TEST_CASE("the look at many delays of a pair is the score itself, in single precision") {
    const std::vector<double> gains{-6, 0, 3.5};
    std::vector<double> delays;
    for (int n = -9; n <= 11; ++n) delays.push_back(1.3e-3 * n);  // more than one block, not two
    for (unsigned seed = 1; seed <= 10; ++seed) {
        const Judge judge(frequency, seats, band());
        auto p = pressures(2, seed);
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (Complex& value : p.at(f)) value *= 3e-4;
        const SettingsProblem problem(judge, {}, p);
        for (const int polarity : {1, -1}) {
            const auto scores = problem.look({gains, delays, polarity});
            REQUIRE(scores.size() == gains.size() * delays.size());
            for (std::size_t g = 0; g < gains.size(); ++g)
                for (std::size_t d = 0; d < delays.size(); ++d) {
                    const Dial one{std::min(0.0, -gains[g]), std::max(0.0, -delays[d]), 1},
                        two{std::min(0.0, gains[g]), std::max(0.0, delays[d]), polarity};
                    CHECK(scores[g * delays.size() + d] ==
                          Approx(problem.score(std::vector{one, two})).margin(0.002));
                }
        }
    }
}

TEST_CASE("gain and delay of two subs against a brute-force grid") {
    // From five fixed starts it ends beside the deepest in 14 of these 100, the search as it is in
    // 1; which one depends on rounding.
    int missed = 0;
    for (unsigned seed = 1; seed <= 100; ++seed) {
        const Judge judge(frequency, seats, band());
        const SettingsProblem problem(judge, {}, pressures(2, seed));
        SettingSteps steps;
        steps.gain = 1, steps.delay = 0.5e-3, steps.longest_delay = 15e-3;
        double least = 1e9;
        for (int polarity : {1, -1})
            for (double gain = -12; gain <= 12; gain += steps.gain)
                for (int n = -30; n <= 30; ++n) {
                    const double delay = n * steps.delay;
                    const Dial one{std::min(0.0, -gain), std::max(0.0, -delay), 1},
                        two{std::min(0.0, gain), std::max(0.0, delay), polarity};
                    least = std::min(least, problem.score(std::vector{one, two}));
                }
        const auto found = best_settings(problem, steps);
        if (problem.score(found) > least + 0.05) ++missed;
        CHECK(problem.score(found) > least - 1e-9);  // on the same steps nothing can be better
        for (const Dial& s : found) {
            CHECK(std::abs(s.gain_db / steps.gain - std::round(s.gain_db / steps.gain)) < 1e-9);
            CHECK(std::abs(s.delay / steps.delay - std::round(s.delay / steps.delay)) < 1e-9);
            CHECK((s.gain_db <= 0 && s.delay >= 0));
        }
        CHECK(found[0].polarity == 1);
    }
    CHECK(missed <= 4);
}

TEST_CASE("a delayed, inverted twin is found out") {
    // Sub 2 is sub 1 with 3 ms less way and the wires crossed: undone, the two are one sub, 6 dB
    // up.
    const auto p = pressures(1, 9);
    ByFrequency<Complex> both(frequency.size(), seats.size(), 2);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t s = 0; s < seats.size(); ++s) {
            both(f, s, 0) = p(f, s);
            both(f, s, 1) = -p(f, s) * std::polar(1.0, 2 * pi * frequency[f] * 3e-3);
        }
    const Judge judge(frequency, seats, band());
    const SettingsProblem problem(judge, {0, 0, 0, 1}, both);  // level alone
    const auto found = best_settings(problem, {});
    CHECK(found[1].polarity == -1);
    CHECK(found[1].delay - found[0].delay == Approx(3e-3).margin(1e-9));
    CHECK(found[0].gain_db == 0);
    CHECK(found[1].gain_db == 0);
}

TEST_CASE("biquads have the response of their analogue prototypes") {
    // Cookbook: H(s) = (s^2 + s A/Q + 1)/(s^2 + s/(A Q) + 1), A = 10^(dB/40), and for the low shelf
    // A (s^2 + s sqrt(A)/Q + A)/(A s^2 + s sqrt(A)/Q + 1); the high shelf is its mirror image.
    using Kind = EqFilter::Kind;
    for (const Kind kind : {Kind::peaking, Kind::low_shelf, Kind::high_shelf})
        for (const double gain : {-12.0, 4.0})
            for (const double q : {0.6, 5.0}) {
                const EqFilter filter{kind, 50, gain, q};
                for (const double rate : {48e3, 96e3}) {
                    const Biquad b = biquad(filter, rate);
                    CHECK(b.stable());
                    for (const double f : {10.0, 35.0, 50.0, 80.0, 300.0}) {
                        const Complex s{0, f / 50};
                        const double a = std::pow(10, gain / 40), r = std::sqrt(a) / q;
                        const Complex wanted =
                            kind == Kind::peaking
                                ? (s * s + s * a / q + 1.0) / (s * s + s / (a * q) + 1.0)
                            : kind == Kind::low_shelf
                                ? a * (s * s + s * r + a) / (a * s * s + s * r + 1.0)
                                : a * (a * s * s + s * r + 1.0) / (s * s + s * r + a);
                        const Complex is = b.response(f, rate);
                        CHECK(std::abs(is / wanted - 1.0) < 2e-3);
                        const std::vector<double> at{f};
                        CHECK(equaliser_power({{filter}}, at)[0] ==
                              Approx(std::norm(biquad(filter, 192e3).response(f, 192e3)))
                                  .epsilon(1e-6));  // the digits that its coefficients keep
                    }
                }
            }
    CHECK_THROWS_AS(biquad({EqFilter::Kind::peaking, 30e3, 1, 1}, 48e3), Error);
}

TEST_CASE("coefficients filter a sine as their response says") {
    // The difference equation itself, run on samples: the sign convention of the exports.
    const double rate = 48e3, f = 60;
    const Biquad b = biquad({EqFilter::Kind::peaking, 50, -9, 2}, rate);
    double x1 = 0, x2 = 0, y1 = 0, y2 = 0;
    Complex in = 0, out = 0;
    for (int n = 0; n < 96000; ++n) {
        const double x = std::sin(2 * pi * f * n / rate);
        const double y = b.b0 * x + b.b1 * x1 + b.b2 * x2 - b.a1 * y1 - b.a2 * y2;
        x2 = x1, x1 = x, y2 = y1, y1 = y;
        if (n < 48000) continue;  // settled
        const Complex turn = std::polar(1.0, -2 * pi * f * n / rate);
        in += x * turn, out += y * turn;
    }
    CHECK(std::abs(out / in - b.response(f, rate)) < 1e-4);
}

TEST_CASE("the equaliser takes peaks away and leaves nulls alone") {
    const Judge judge(frequency, seats, band());
    std::vector<double> power;
    for (double f : frequency) {
        const auto bump = [&](double f0, double octaves) {
            return std::exp(-std::pow(std::log2(f / f0) / octaves, 2));
        };
        power.push_back(1e-3 * std::pow(10, (9 * bump(45, 0.12) - 16 * bump(75, 0.06)) / 10));
    }
    const auto filters = equalise(judge, power);
    REQUIRE_FALSE(filters.empty());
    Criteria before, after;
    judge.judge_average(power, before);
    judge.judge_average(equalised(judge, power, filters), after);
    CHECK(after.unevenness_db < before.unevenness_db - 0.5);
    const std::vector<double> at{45, 75};
    const auto gain = equaliser_db(filters, at);
    CHECK(gain[0] < -4);
    CHECK(gain[1] < 0.1);
    const EqLimits limits;
    for (const EqFilter& f : filters) {
        CHECK(f.gain_db <= limits.most_boost);
        CHECK(f.gain_db >= -limits.most_cut);
        CHECK((f.gain_db <= 0 || f.q <= limits.sharpest_boost));
    }
    const std::vector<double> flat(frequency.size(), 1e-3);
    CHECK(equalise(judge, flat).empty());
}

TEST_CASE("no uncertainty is the nominal case; draws are the same every time") {
    Scenario s = room();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, *s.design.box_volume, s.design.filling);
    Timings timings;
    SetRanking ranking = rank_sets(s, driver, box, 2, timings);
    REQUIRE(ranking.sets.size() >= 3);
    s.judgement.uncertainty = {5, 1, 0, 0, 0, 1, 0};
    judge_robustness(s, box.volume, {&ranking}, 3, timings);
    CHECK(ranking.sets[0].robustness.share_of_wins == 1);
    for (int n = 0; n < 3; ++n) {
        const Criteria& c = ranking.sets[n].criteria;
        const Robustness& r = ranking.sets[n].robustness;
        CHECK(r.low.spread_db == Approx(c.spread_db).margin(0.005));
        CHECK(r.high.spread_db == Approx(c.spread_db).margin(0.005));
        CHECK(r.middle.level_db == Approx(c.level_db).margin(0.005));
        CHECK(r.high.reach_hz == Approx(c.reach_hz).epsilon(0.03));
    }
    s.judgement.uncertainty = {};
    const Draw one = draw_inputs(s, 7), again = draw_inputs(s, 7), other = draw_inputs(s, 8);
    CHECK(one.seats[1].at == again.seats[1].at);
    CHECK_FALSE(one.seats[1].at == other.seats[1].at);
    CHECK(std::abs(one.room.width - s.acoustics.room.width) <= 0.02);
    CHECK(one.room.width != s.acoustics.room.width);
    const double factor = one.room.walls[0].branches[0].resistance / 9000;
    CHECK((factor >= 1 / 1.5 && factor <= 1.5));
    s.judgement.uncertainty.draws = 40;
    judge_robustness(s, box.volume, {&ranking}, 3, timings);
    double sum = 0;
    for (int n = 0; n < 3; ++n) sum += ranking.sets[n].robustness.share_of_wins;
    CHECK(sum == Approx(1));
    CHECK(ranking.sets[0].robustness.low.spread_db < ranking.sets[0].robustness.high.spread_db);
}

TEST_CASE("two subs are worth no less than either alone; settings no less than none") {
    const Scenario s = room();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, *s.design.box_volume, s.design.filling);
    Timings timings;
    const SetRanking one = rank_sets(s, driver, box, 1, timings),
                     two = rank_sets(s, driver, box, 2, timings);
    CHECK(two.proven);
    CHECK(two.sets.front().criteria.spread_db < one.sets.front().criteria.spread_db);
    for (const RankedSet& set : two.sets) {
        CHECK(set.criteria.score <= set.plain.score + 1e-9);
        CHECK(set.positions.size() == 2);
    }
    for (const RankedSet& a : two.front)
        for (const RankedSet& b : two.front)
            CHECK_FALSE((b.criteria.spread_db < a.criteria.spread_db &&
                         b.criteria.unevenness_db < a.criteria.unevenness_db &&
                         b.criteria.level_db > a.criteria.level_db));
}
