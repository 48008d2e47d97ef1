// Two answers beside each other, on made-up curves whose difference is known.
#include "placement/comparison.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"

using namespace boxroom;

namespace {

/// A straight line of decibels over log2 f from `from` to `to` Hz.
Listening line(double from, double to, int count, double slope, double offset) {
    Listening heard;
    heard.absolute = true;
    for (int i = 0; i < count; ++i) {
        const double f = from * std::pow(to / from, i / (count - 1.0));
        heard.frequency.push_back(f);
        heard.seat_average_db.push_back(offset + slope * std::log2(f / 40));
    }
    return heard;
}

}  // namespace

TEST_CASE("A comparison finds a known difference on grids that do not match") {
    const Listening first = line(20, 160, 97, 1, 80), second = line(25, 200, 61, 3, 80);
    const Band band{30, 120};
    const Comparison c = compare("a", first, "b", second, band);
    CHECK(c.frequency.front() >= 25);
    for (std::size_t i = 0; i < c.frequency.size(); ++i)
        CHECK(c.difference_db[i] == Approx(2 * std::log2(c.frequency[i] / 40)).margin(1e-9));
    // The largest stands at the band's upper end: 2 log2(120/40), with its sign.
    CHECK(c.largest_db == Approx(2 * std::log2(3.0)).epsilon(0.03));
    CHECK(c.largest_at_hz == Approx(120).epsilon(0.03));
    // RMS of 2 x over x = log2(f/40) from log2(3/4) to log2(3): sqrt(4 (b^3 - a^3)/(3 (b - a))).
    const double a = std::log2(0.75), b = std::log2(3.0);
    CHECK(c.rms_db == Approx(std::sqrt(4 * (b * b * b - a * a * a) / (3 * (b - a)))).epsilon(0.02));

    Listening relative = second;
    relative.absolute = false;
    CHECK_THROWS_AS(compare("a", first, "b", relative, band), Error);
    CHECK_THROWS_AS(compare("a", first, "b", line(150, 200, 9, 0, 80), band), Error);
}

TEST_CASE("A comparison says what became better and what worse") {
    Listening first = line(20, 160, 97, 1, 80), second = line(20, 160, 97, 1, 83);
    first.criteria.spread_db = 4, second.criteria.spread_db = 2.5;
    first.criteria.level_db = 80, second.criteria.level_db = 83;
    first.criteria.reach_hz = 28, second.criteria.reach_hz = 33;
    const std::string words = comparison_words(compare("a", first, "b", second, {30, 120}));
    CHECK(words.find("3.0 dB louder") != std::string::npos);
    CHECK(words.find("Better in the second: spread (4.0 to 2.5 dB), level (80.0 to 83.0 dB).") !=
          std::string::npos);
    CHECK(words.find("Worse: reach (28 to 33 Hz).") != std::string::npos);
    CHECK(comparison_words(compare("a", first, "a", first, {30, 120})).find("sound the same") !=
          std::string::npos);
}
