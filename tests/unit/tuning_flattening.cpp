// What filters leave of a response: slopes against differences, and filters that do not hang on how
// a processor rounds.
#include "tuning/flattening.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "base/frequency_grid.hpp"
#include "tuning/equaliser.hpp"

using namespace boxroom;

namespace {

const std::vector<double> frequency = logarithmic_grid({10, 200}, 48);

Judge judge() {
    Target target;
    target.band = {30, 120};
    std::vector<Seat> seats(1);
    seats[0].weight = 1;
    return {frequency, seats, target};
}

/// Peaks and dips of any width and height on a slope, as rooms have them.
std::vector<double> response(std::mt19937_64& random) {
    const auto between = [&random](double a, double b) {
        return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53;
    };
    std::vector<double> level(frequency.size());
    const double slope = between(-4, 4);
    for (std::size_t f = 0; f < level.size(); ++f) level[f] = slope * std::log2(frequency[f] / 60);
    for (int n = 0; n < 8; ++n) {
        const double at = std::exp(between(std::log(12.0), std::log(180.0))),
                     height = between(-14, 12), width = between(0.03, 0.4);
        for (std::size_t f = 0; f < level.size(); ++f)
            level[f] += height * std::exp(-std::pow(std::log2(frequency[f] / at) / width, 2));
    }
    for (double& db : level) db = 1e-3 * std::pow(10, db / 10);
    return level;
}

}  // namespace

TEST_CASE("slopes of what is left are those of its differences") {
    std::mt19937_64 random(3);
    const Judge by = judge();
    std::vector<EqFilter> filters(3);
    filters[0].frequency = 41, filters[0].gain_db = -6, filters[0].q = 4;
    filters[1].frequency = 66, filters[1].gain_db = 3, filters[1].q = 0.9;
    filters[2].frequency = 130, filters[2].gain_db = -2, filters[2].q = 1.6;
    for (int trial = 0; trial < 10; ++trial) {
        const Flattening curve(by, response(random), {});
        for (const bool broad : {false, true}) {
            const SquaresAt at = curve.near(filters, broad);
            CHECK(at.sum == Approx(curve.sum(filters, broad)));
            for (int p = 0; p < 9; ++p) {
                const auto moved = [&](double h) {
                    auto there = filters;
                    EqFilter& f = there[static_cast<std::size_t>(p) / 3];
                    if (p % 3 == 0) f.frequency *= std::exp(h);
                    if (p % 3 == 1) f.gain_db += h;
                    if (p % 3 == 2) f.q *= std::exp(h);
                    return curve.sum(there, broad);
                };
                INFO("trial " << trial << ", slope " << p << (broad ? ", broad" : ""));
                CHECK(at.slope(p) ==
                      Approx((moved(1e-3) - moved(-1e-3)) / 2e-3).epsilon(1e-4).margin(1e-3));
            }
        }
    }
}

TEST_CASE("the same filters for a response that differs in digits that processors round") {
    std::mt19937_64 random(7);
    const Judge by = judge();
    int others = 0, better = 0;
    constexpr int trials = 120;
    for (int trial = 0; trial < trials; ++trial) {
        const std::vector<double> power = response(random);
        std::vector<double> near = power;
        for (double& p : near) p *= 1 + 1e-9 * (static_cast<double>(random() >> 11) * 0x1p-52 - 1);
        const auto filters = equalise(by, power), again = equalise(by, near);
        bool same = filters.size() == again.size();
        for (std::size_t n = 0; same && n < filters.size(); ++n)
            same = filters[n].frequency == again[n].frequency &&
                   filters[n].gain_db == again[n].gain_db && filters[n].q == again[n].q;
        others += !same;
        const Flattening curve(by, power, {});
        better += curve.left(filters) < 0.75 * curve.left({});
    }
    CHECK(others == 0);
    CHECK(better >= 0.9 * trials);
}
