// The search of the equaliser, on sums of squares whose lowest points are known.
#include "tuning/least_within.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace boxroom;
using Eigen::Vector2d;
using Eigen::VectorXd;

namespace {

SearchBounds between(double low, double high) {
    return {VectorXd::Constant(2, low), VectorXd::Constant(2, high), VectorXd::Constant(2, 0.1)};
}

/// Rosenbrock, The Computer Journal 3(3), 1960, the sum of the squares of 10 (y - x^2) and 1 - x: 0
/// at (1, 1), along a bent valley.
SquaresAt banana(const VectorXd& x) {
    const Vector2d r{10 * (x(1) - x(0) * x(0)), 1 - x(0)};
    Eigen::Matrix2d slopes;
    slopes << -20 * x(0), 10, -1, 0;
    return {r.squaredNorm(), 2 * slopes.transpose() * r, 2 * slopes.transpose() * slopes};
}

VectorXd lowest(const SearchBounds& bounds, int most = 200) {
    return least_within([](const VectorXd& x) { return banana(x).sum; }, banana,
                        Vector2d{-1.2, 1.0}, bounds, most);
}

}  // namespace

TEST_CASE("down the bent valley to the lowest point itself") {
    const VectorXd at = lowest(between(-5, 5));
    CHECK(at(0) == Approx(1).margin(1e-7));
    CHECK(at(1) == Approx(1).margin(1e-7));
}

TEST_CASE("a lowest point on a bound is found there, and no bound is crossed") {
    SearchBounds bounds = between(-5, 5);
    bounds.high(0) = 0.5;
    const VectorXd at = lowest(bounds);
    CHECK(at(0) == 0.5);
    CHECK(at(1) == Approx(0.25).margin(1e-7));
    const VectorXd outside = least_within([](const VectorXd& x) { return banana(x).sum; }, banana,
                                          Vector2d{7.0, 9.0}, bounds, 0);
    CHECK(outside(0) == 0.5);
    CHECK(outside(1) == 5);
}

TEST_CASE("few points lead part of the way") {
    const double part = banana(lowest(between(-5, 5), 5)).sum;
    CHECK(part < banana(Vector2d{-1.2, 1.0}).sum);
    CHECK(part > 1e-6);
}

TEST_CASE("bounds of another size are refused") {
    SearchBounds bounds = between(-5, 5);
    bounds.length = VectorXd::Ones(3);
    CHECK_THROWS_AS(lowest(bounds), std::length_error);
}
