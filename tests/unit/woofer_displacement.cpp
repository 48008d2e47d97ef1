// What stands in the box, against formulas of solid geometry.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "woofer/displacement.hpp"

using namespace boxroom;
using std::numbers::pi;

TEST_CASE("Frustum: cylinder, cone and the difference of two cones") {
    CHECK(frustum_volume(0.2, 0.2, 0.1) == Approx(pi / 4 * 0.04 * 0.1));
    CHECK(frustum_volume(0.2, 0, 0.3) == Approx(pi / 3 * 0.01 * 0.3));
    // A cone 0.4 m high and 0.2 m wide less its tip of half the size.
    const double whole = pi / 3 * 0.01 * 0.4;
    CHECK(frustum_volume(0.2, 0.1, 0.2) == Approx(whole - whole / 8));
}

TEST_CASE("The frustum rule is a frustum, cut in slices") {
    const double sd = 0.033, d = 2 * std::sqrt(sd / pi);
    double sum = 0;
    const int slices = 20000;
    for (int n = 0; n < slices; ++n) {
        const double at = (n + 0.5) / slices, wide = d * (1 - at / 2);
        sum += pi / 4 * wide * wide * 0.35 * d / slices;
    }
    CHECK(driver_displacement(sd).value == Approx(sum).epsilon(1e-6));
}

TEST_CASE("The rule holds what data sheets say of 8 to 15 inch drivers within its error") {
    // Typical Sd and displacement in litres, from memory: 0.02-0.04, 0.04-0.07, 0.07-0.11 and
    // 0.15-0.24 ft3.
    const double sheet[][2] = {{0.0215, 0.85}, {0.033, 1.55}, {0.050, 2.55}, {0.085, 5.5}};
    for (const auto& [sd, litres] : sheet) {
        const Estimate e = driver_displacement(sd);
        CHECK(std::abs(e.value * 1e3 - litres) < e.error * 1e3);
    }
    CHECK(driver_displacement(std::nullopt).error > driver_displacement(0.033).error);
}

TEST_CASE("An amplifier without a rating stands outside") {
    CHECK(amplifier_displacement(std::nullopt).value == 0);
    CHECK(amplifier_mass(std::nullopt).value == 0);
    CHECK(amplifier_displacement(250).value == Approx(2e-3));
}

TEST_CASE("Bracing by hand: one window brace and eight cleats") {
    // 0.4 x 0.3 m across, 0.35 m deep, 20 mm board. Bars 45 mm: window 0.31 x 0.21 m.
    // Brace 0.02 (0.12 - 0.0651) = 1.098 L; cleats 4 x 0.02^2 x 0.33 = 0.528 L.
    CHECK(bracing_volume(0.4, 0.3, 0.35, 0.02, 1, true) == Approx(1.626e-3));
    CHECK(bracing_volume(0.4, 0.3, 0.35, 0.02, 2, false) == Approx(2.196e-3));
    CHECK(bracing_volume(0.4, 0.3, 0.35, 0.02, 0, false) == 0);
}
