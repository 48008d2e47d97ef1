#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "measured/discrepancy.hpp"

using namespace boxroom;

namespace {

/// An autoregressive series of first order and variance 1 in each of some recordings.
std::vector<std::vector<double>> series(double from_the_last, int recordings, int points) {
    std::mt19937 random(7);
    std::normal_distribution<double> normal;
    std::vector<std::vector<double>> all;
    for (int r = 0; r < recordings; ++r) {
        std::vector<double> one{normal(random)};
        while (static_cast<int>(one.size()) < points)
            one.push_back(from_the_last * one.back() +
                          std::sqrt(1 - from_the_last * from_the_last) * normal(random));
        all.push_back(std::move(one));
    }
    return all;
}

}  // namespace

TEST_CASE("Errors that follow each other count for as few as their autocorrelation says") {
    // Of an AR(1) process 1 + 2 sum of r^k = (1 + r) / (1 - r); Bayley & Hammersley 1946. The sum
    // ends after 24 points: 2 sum beyond them is 0.6 of r = 0.9's 19.
    for (const auto& [r, alike] : {std::pair{0.8, 9.0}, {0.9, 19.0}}) {
        const auto residuals = series(r, 20, 2000);
        const Discrepancy found = discrepancy_of(residuals, 40000, 0);
        CHECK(found.alike_points == Approx(alike).epsilon(0.1));
        CHECK(found.db == Approx(1).epsilon(0.05));
    }
}

TEST_CASE("White errors are as alike as smoothing makes them") {
    // Five points with weights 1/2, 1, 1, 1, 1/2: 16 / 3.5 (the variance of a weighted mean).
    const Discrepancy found = discrepancy_of(series(0, 20, 2000), 40000, 0);
    CHECK(found.alike_points == Approx(4.571).epsilon(1e-3));
}

TEST_CASE("What parameters have taken from the residuals is given back") {
    // A line fitted to each of many short series takes two of their numbers (the unbiased estimate
    // of a regression's variance, n - 2; any textbook). The points here are each alone in their
    // grid cell, so that smoothing's least of 4.571 points is asked of in proportion.
    std::mt19937 random(3);
    std::normal_distribution<double> normal;
    const int recordings = 500, points = 40;
    std::vector<std::vector<double>> all;
    for (int r = 0; r < recordings; ++r) {
        std::vector<double> wide(points);
        for (double& v : wide) v = normal(random);
        double mean = 0, slope = 0, squares = 0;
        const double middle = (points - 1) / 2.0;
        for (int f = 0; f < points; ++f) {
            mean += wide[f] / points;
            slope += (f - middle) * wide[f], squares += (f - middle) * (f - middle);
        }
        for (int f = 0; f < points; ++f) wide[f] -= mean + slope / squares * (f - middle);
        all.push_back(std::move(wide));
    }
    const Discrepancy found =
        discrepancy_of(all, recordings * points, 2.0 * recordings / smoothed_points);
    CHECK(found.db == Approx(1).epsilon(0.01));
    CHECK(discrepancy_of(all, recordings * points, 0).db < 0.98);
}

TEST_CASE("Where the data have told all they hold, a quarter of them is left") {
    const std::vector<std::vector<double>> one{{0.2, -0.2, 0.2, -0.2}};
    CHECK(discrepancy_of(one, 4, 100).db == Approx(0.4));
    CHECK(discrepancy_of({}, 0, 0).db == 0);
}
