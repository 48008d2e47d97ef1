// The floor plan as rectangles that a box keeps off.
#include "viz/outline.hpp"

#include <catch2/catch.hpp>
#include <algorithm>
#include <cmath>
#include <random>

using namespace boxroom;

namespace {

const std::vector<Point> l_shape{{0, 0, 0}, {5.4, 0, 0}, {5.4, 3, 0}, {3.6, 3, 0}, {3.6, 5.4, 0},
                                 {0, 5.4, 0}};
const std::vector<Point> slanted{{0, 0, 0}, {4, 0, 0}, {4, 2, 0}, {2.5, 4.5, 0}, {0, 3, 0}};

double area(const std::vector<KeepOut>& all) {
    double sum = 0;
    for (const KeepOut& k : all) sum += (k.x1 - k.x0) * (k.y1 - k.y0);
    return sum;
}

bool blocked(const std::vector<KeepOut>& all, double x, double y) {
    for (const KeepOut& k : all)
        if (x > k.x0 && x < k.x1 && y > k.y0 && y < k.y1) return true;
    return false;
}

/// Even-odd by the angle swept round the point: another rule than the one under test.
bool inside_by_angle(const std::vector<Point>& outline, double x, double y) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const double ax = a.x - x, ay = a.y - y, bx = b.x - x, by = b.y - y;
        sum += std::atan2(ax * by - ay * bx, ax * bx + ay * by);
    }
    return std::abs(sum) > 3;
}

}  // namespace

TEST_CASE("what an L leaves out of its rectangle is one rectangle") {
    const auto out = outside_outline(l_shape, 5.4, 5.4);
    REQUIRE(out.size() == 1);
    CHECK(out[0].x0 == Approx(3.6));
    CHECK(out[0].x1 == Approx(5.4));
    CHECK(out[0].y0 == Approx(3));
    CHECK(out[0].y1 == Approx(5.4));
}

TEST_CASE("the way round and the first corner do not matter") {
    std::vector<Point> other(l_shape.rbegin(), l_shape.rend());
    std::rotate(other.begin(), other.begin() + 2, other.end());
    CHECK(area(outside_outline(other, 5.4, 5.4)) == Approx(1.8 * 2.4));
    CHECK(outside_outline({}, 4, 5).empty());
}

TEST_CASE("beside slanted edges the rectangles keep what is outside, and little more") {
    const auto out = outside_outline(slanted, 4, 4.5);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> x(0, 4), y(0, 4.5);
    for (int n = 0; n < 4000; ++n) {
        const double px = x(random), py = y(random);
        if (!inside_by_angle(slanted, px, py)) CHECK(blocked(out, px, py));
    }
    // The shoelace formula: 2 A = 0*0-4*0 + 4*2-4*0 + 4*4.5-2.5*2 + 2.5*3-0*4.5 + 0 = 28.5.
    const double outside = 4 * 4.5 - 28.5 / 2;
    CHECK(area(out) > outside);
    // A step of 0.1 m beside edges of (1.5, 2.5) and (2.5, 1.5) m adds at most 0.1 m x their widths.
    CHECK(area(out) < outside + 0.1 * (1.5 + 2.5));
}

TEST_CASE("a line through the L is parted by the notch") {
    const auto across = inside_outline(l_shape, 4.0), along = inside_outline(l_shape, 4.0, true);
    REQUIRE(across.size() == 1);
    CHECK(across[0].second == Approx(3.6));
    REQUIRE(along.size() == 1);
    CHECK(along[0].second == Approx(3.0));
}
