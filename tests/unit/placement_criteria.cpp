// The criteria on responses whose answers can be worked out by hand.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/criteria.hpp"

using namespace boxroom;

namespace {

double power_of(double level) {
    return 4e-10 * std::pow(10.0, level / 10);
}

struct Setup {
    std::vector<double> frequency = logarithmic_grid({10, 200}, 48);
    Target target{{20, 120}, 0, 0.5};
    std::vector<Seat> seats{{"a", {}, 1}, {"b", {}, 1}};
    Judge judge() const { return Judge(frequency, seats, target); }
};

}  // namespace

TEST_CASE("Two seats 6 dB apart: standard deviation 3 dB, difference 6 dB") {
    const Setup setup;
    ByFrequency<double> power(setup.frequency.size(), 2);
    for (std::size_t f = 0; f < setup.frequency.size(); ++f) {
        const double both = 5 * std::sin(setup.frequency[f]);  // what both share does not count
        power(f, 0) = power_of(80 + both), power(f, 1) = power_of(86 + both);
    }
    Criteria c;
    setup.judge().judge_seats(power, c);
    CHECK(c.spread_db == Approx(3.0));
    CHECK(c.largest_difference_db == Approx(6.0));
}

TEST_CASE("Weights: population form, divided by the sum of weights") {
    Setup setup;
    setup.seats = {{"a", {}, 3}, {"b", {}, 1}};
    ByFrequency<double> power(setup.frequency.size(), 2);
    for (std::size_t f = 0; f < setup.frequency.size(); ++f)
        power(f, 0) = power_of(80), power(f, 1) = power_of(88);
    Criteria c;
    setup.judge().judge_seats(power, c);
    CHECK(c.spread_db == Approx(8 * std::sqrt(0.75 * 0.25)));  // p(1-p) of a two-point distribution
    const auto average = setup.judge().seat_average(power);
    CHECK(average[5] == Approx(0.75 * power_of(80) + 0.25 * power_of(88)));
}

TEST_CASE("A tilt in dB per octave: RMS of a uniform distribution about its mean") {
    Setup setup;
    std::vector<double> power;
    for (double f : setup.frequency) power.push_back(power_of(80 + 4 * std::log2(f / 50)));
    Criteria c;
    setup.judge().judge_average(power, c);
    const double octaves = std::log2(120.0 / 20);
    CHECK(c.balance_db == Approx(4 * octaves / std::sqrt(12.0)).epsilon(0.02));
    CHECK(c.unevenness_db == Approx(4 * octaves / std::sqrt(12.0)).epsilon(0.02));
    CHECK(c.level_db == Approx(80 + 4 * std::log2(std::sqrt(20.0 * 120) / 50)).margin(0.05));

    setup.target.slope = 4;  // and nothing is left when that is what was asked for
    setup.judge().judge_average(power, c);
    CHECK(c.balance_db == Approx(0).margin(0.02));
}

TEST_CASE("A narrow ripple is unevenness, not balance") {
    const Setup setup;
    std::vector<double> power;
    for (double f : setup.frequency)
        power.push_back(power_of(80 + 3 * std::sin(2 * M_PI * 3 * std::log2(f / 10))));
    Criteria c;
    setup.judge().judge_average(power, c);
    CHECK(c.unevenness_db > 1.5);  // 3/sqrt 2 before the twelfth-octave smoothing
    CHECK(c.balance_db < 0.2);     // whole periods fit the one-octave window
}

// The definition by brute force: powers averaged over an octave and levels over the band by sums
// over thousands of points; going down from the band's middle, where the first is 6 dB under the
// second. Catches another depth than 6 dB (a decibel is 3 % here) and another smoothing (a third of
// an octave is 10 %).
TEST_CASE("Reach: where a high-pass falls 6 dB below the band") {
    const Setup setup;
    const auto level = [](double f) {  // 24 dB/oct below 40 Hz, flat above
        return f >= 40 ? 80 : 80 + 24 * std::log2(f / 40);
    };
    std::vector<double> power;
    for (double f : setup.frequency) power.push_back(power_of(level(f)));
    Criteria c;
    setup.judge().judge_average(power, c);

    const auto smoothed = [&](double f) {
        double sum = 0;
        for (int n = 0; n < 2000; ++n)
            sum += power_of(level(f * std::exp2((n + 0.5) / 2000 - 0.5)));
        return 10 * std::log10(sum / 2000 / 4e-10);
    };
    double mean = 0, reach = std::sqrt(20.0 * 120);
    for (int n = 0; n < 1000; ++n) mean += smoothed(20 * std::pow(6, (n + 0.5) / 1000)) / 1000;
    while (smoothed(reach) >= mean - 6) reach /= 1.0002;
    CHECK(c.reach_hz == Approx(reach).epsilon(0.004));
}

TEST_CASE("Reach is of what differs from the target") {
    Setup setup;
    setup.target.slope = 6;  // asked for: 6 dB/oct, which is then no fall at all
    std::vector<double> power;
    for (double f : setup.frequency) power.push_back(power_of(80 + 6 * std::log2(f / 60)));
    Criteria c;
    setup.judge().judge_average(power, c);
    CHECK(c.reach_hz == Approx(setup.frequency.front()));
    setup.target.slope = 0;
    setup.judge().judge_average(power, c);
    CHECK(c.reach_hz > 20);
}

TEST_CASE("Reach goes on below the target band, and no dip ends it, however deep") {
    const Setup setup;
    for (const double dip : {50.0, 36.0, 80.0}) {
        std::vector<double> power;  // flat down to 14 Hz; 30 dB deep over a third of an octave
        for (double f : setup.frequency)
            power.push_back(power_of(f < 14                                   ? 40
                                     : std::abs(std::log2(f / dip)) < 1.0 / 6 ? 50
                                                                              : 80));
        Criteria c;
        setup.judge().judge_average(power, c);
        CHECK(c.reach_hz > 8);
        CHECK(c.reach_hz < 16);
    }
}

TEST_CASE("A target of points is straight in decibels over ln f, and level beyond its ends") {
    Target target;
    target.band = {20, 80};  // middle 40 Hz
    target.curve = {{20, 6}, {80, 0}};
    CHECK(target_db(target, 40) == Approx(0).margin(1e-12));
    CHECK(target_db(target, 20) == Approx(3));
    CHECK(target_db(target, 80) == Approx(-3));
    CHECK(target_db(target, 10) == Approx(3));
    CHECK(target_db(target, 200) == Approx(-3));
    target.curve = {{20, 6}, {40, 6}, {80, 0}};
    CHECK(target_db(target, 40 * std::sqrt(2.0)) == Approx(-3));
    // A response that is the target is without fault against it.
    Setup setup;
    setup.target.curve = {{20, 6}, {80, 0}};
    std::vector<double> power;
    for (double f : setup.frequency) power.push_back(power_of(80 + target_db(setup.target, f)));
    Criteria c;
    setup.judge().judge_average(power, c);
    CHECK(c.unevenness_db < 0.05);
    CHECK(c.balance_db < 0.4);  // an octave rounds the corner at 80 Hz
}

// A slope of 24 dB an octave into a flat band, on points an octave apart: the straight line between
// them gives the place where it is 6 dB under the mean, not the next point above.
TEST_CASE("Reach lies between the points") {
    Setup setup;
    setup.target.band = {20, 120};
    double reach[2];
    for (const int per_octave : {6, 48}) {
        setup.frequency = logarithmic_grid({10, 160}, per_octave);
        std::vector<double> power;
        for (double f : setup.frequency)
            power.push_back(power_of(f >= 40 ? 80 : 80 + 24 * std::log2(f / 40)));
        Criteria c;
        setup.judge().judge_average(power, c);
        reach[per_octave == 48] = c.reach_hz;
    }
    CHECK(reach[0] == Approx(reach[1]).epsilon(0.03));
}
