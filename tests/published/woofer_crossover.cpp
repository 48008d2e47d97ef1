// Crossover filters against what the books say of them. SciPy's filters are compared in
// tests/end_to_end/test_crossover.py.
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "woofer/closed_box.hpp"
#include "woofer/crossover.hpp"

using namespace boxroom;
using Kind = Crossover::Kind;

namespace {
double db(std::complex<double> h) {
    return 20 * std::log10(std::abs(h));
}
}  // namespace

TEST_CASE("Butterworth: 1/(1 + x^2n), 3 dB down at its frequency, powers add to one") {
    for (const int order : {2, 4}) {
        const Crossover c{Kind::butterworth, order, 80};
        for (const double f : {20.0, 55.0, 80.0, 110.0, 400.0}) {
            const double power = 1 / (1 + std::pow(f / 80, 2 * order));  // Butterworth 1930
            CHECK(std::norm(c.low_pass(f)) == Approx(power).epsilon(1e-12));
            CHECK(std::norm(c.low_pass(f)) + std::norm(c.high_pass(f)) == Approx(1));
        }
        CHECK(db(c.low_pass(80)) == Approx(-3.0103).margin(1e-4));
    }
}

TEST_CASE("Linkwitz-Riley: 6 dB down, in phase, sums flat") {
    // Linkwitz, JAES 24(1) 1976: the two sides sum to an all-pass; of order 2 with one side turned.
    for (const int order : {2, 4}) {
        const Crossover c{Kind::linkwitz_riley, order, 80};
        const double sign = order == 2 ? -1 : 1;
        for (const double f : {20.0, 55.0, 80.0, 110.0, 400.0}) {
            CHECK(std::abs(c.low_pass(f) + sign * c.high_pass(f)) == Approx(1));
            CHECK(std::abs(std::arg(sign * c.high_pass(f) / c.low_pass(f))) < 1e-9);
        }
        CHECK(db(c.low_pass(80)) == Approx(-6.0206).margin(1e-4));
        CHECK(db(c.low_pass(800)) == Approx(-20.0 * order).margin(0.2));  // 6 dB an octave each
        CHECK(db(c.high_pass(8)) == Approx(-20.0 * order).margin(0.2));
    }
    CHECK_THROWS_AS((Crossover{Kind::butterworth, 3, 80}.low_pass(50)), Error);
}

TEST_CASE("the passband is what the box tends to") {
    const Air air;
    DriverSheet sheet;
    sheet.fs = 27, sheet.qts = 0.45, sheet.vas = 0.038;
    const std::vector<double> high{30e3};
    const auto pressure = [&](const Driver& driver) {
        const auto u = volume_velocity(driver, closed_box(driver, 0.025, 1), high, air);
        return high[0] * air.density * std::abs(u[0]);  // w rho U/(2 pi) at 1 m
    };
    const Driver relative = complete_driver(sheet, air);
    CHECK(passband_pressure(relative, air) == Approx(pressure(relative)).epsilon(1e-3));
    sheet.qes = 0.495, sheet.qms = 4.95, sheet.re = 3.4, sheet.sd = 0.033;
    const Driver absolute = complete_driver(sheet, air);
    CHECK(passband_pressure(absolute, air) == Approx(pressure(absolute)).epsilon(1e-3));
}
