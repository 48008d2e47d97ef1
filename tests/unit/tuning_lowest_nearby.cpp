// The search for settings, on functions from the literature whose lowest points are known.
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "tuning/lowest_nearby.hpp"

using namespace boxroom;

namespace {

// Slopes are taken over a fiftieth of a step, which must be far below what bends the function.
const std::vector<SearchedVariable> two{{-5, 5, 0.01, 1e-6}, {-5, 5, 0.01, 1e-6}};

/// Rosenbrock, The Computer Journal 3(3), 1960: 0 at (1, 1), along a bent valley.
double banana(std::span<const double> x) {
    return 100 * std::pow(x[1] - x[0] * x[0], 2) + std::pow(1 - x[0], 2);
}

}  // namespace

TEST_CASE("a quadratic is solved to its closed form, whatever the units of its variables") {
    // Minimum of (x - 3)^2 + 2 (y + 40)^2 + (x - 3)(y + 40): (3, -40), its Hessian positive.
    const auto f = [](std::span<const double> x) {
        const double a = x[0] - 3, b = x[1] + 40;
        return a * a + 2 * b * b + a * b;
    };
    const std::vector<SearchedVariable> variables{{-100, 100, 2, 1e-4}, {-100, 100, 15, 1e-4}};
    const auto at = lowest_nearby(f, std::vector{0.0, 0.0}, variables, 400);
    // Forward differences of h lie by h/2 times the curvature (Nocedal & Wright, eq. 8.1).
    CHECK(at[0] == Approx(3).margin(0.5));
    CHECK(at[1] == Approx(-40).margin(0.5));
}

TEST_CASE("down the bent valley of Rosenbrock's function") {
    const auto at = lowest_nearby(banana, std::vector{-1.2, 1.0}, two, 4000);
    CHECK(banana(at) < 0.02);  // 24.2 where it began
}

TEST_CASE("bounds hold, and a lowest point on one is found there") {
    // Lowest at (1, 1) without bounds; with x <= 0.5 at (0.5, 0.25), where f = 0.25.
    const std::vector<SearchedVariable> bounded{{-5, 0.5, 0.01, 1e-6}, {-5, 5, 0.01, 1e-6}};
    double highest = -1e9;
    const auto watched = [&](std::span<const double> x) {
        highest = std::max(highest, x[0]);
        return banana(x);
    };
    const auto at = lowest_nearby(watched, std::vector{-1.2, 1.0}, bounded, 4000);
    CHECK(highest <= 0.5);
    CHECK(banana(at) == Approx(0.25).margin(0.02));
}

TEST_CASE("no more values than it may ask for, but for one round of slopes") {
    int asked = 0;
    const auto counted = [&](std::span<const double> x) {
        ++asked;
        return banana(x);
    };
    lowest_nearby(counted, std::vector{-1.2, 1.0}, two, 25);
    CHECK(asked >= 20);
    CHECK(asked <= 25 + 2);
    CHECK_THROWS_AS(lowest_nearby(counted, std::vector{1.0}, two, 25), std::length_error);
}
