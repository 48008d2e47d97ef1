#include "viz/snapping.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace boxroom;

namespace {

const FloorLimits empty_room{4, 5, 0.05, {}};
const FloorLimits furnished{
    4, 5, 0.05, {{"sofa", 1, 3, 2.5, 4}, {"door", 3.2, 4.1, 4, 5}, {"shelf", 2.3, 3.8, 3.4, 4.3}}};

}  // namespace

TEST_CASE("a free place stays as it is, to the last digit") {
    const Point at = snap_box(furnished, 0.4, 0.3, {1.5, 1.7, 0}, 0.06);
    CHECK(at.x == 1.5);
    CHECK(at.y == 1.7);
}

TEST_CASE("a box stops one gap off a wall and is pulled to a wall that is near") {
    // Half a box and the gap: 0.05 + 0.4/2 and 0.05 + 0.3/2, by hand.
    const Point corner = snap_box(empty_room, 0.4, 0.3, {-3, 9, 0}, 0.06);
    CHECK(corner.x == Approx(0.25));
    CHECK(corner.y == Approx(5 - 0.20));
    CHECK(snap_box(empty_room, 0.4, 0.3, {0.30, 2, 0}, 0.06).x == Approx(0.25));
    CHECK(snap_box(empty_room, 0.4, 0.3, {0.32, 2, 0}, 0.06).x == Approx(0.32));
}

TEST_CASE("over a keep-out the nearest edge is taken") {
    // Sofa 1 to 2.5 by 3 to 4: from (1.1, 3.5) the left edge is nearest: x = 1 - 0.2.
    const Point left = snap_box(furnished, 0.4, 0.3, {1.1, 3.5, 0}, 0);
    CHECK(left.x == Approx(0.8));
    CHECK(left.y == Approx(3.5));
    const Point front = snap_box(furnished, 0.4, 0.3, {1.7, 3.1, 0}, 0);
    CHECK(front.x == Approx(1.7));
    CHECK(front.y == Approx(2.85));
}

TEST_CASE("the snapped place is allowed and no allowed place of a fine grid is nearer") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> x(-0.5, 4.5), y(-0.5, 5.5), side(0.2, 0.6);
    for (int trial = 0; trial < 60; ++trial) {
        const double width = side(random), depth = side(random);
        const Point wanted{x(random), y(random), 0};
        const Point at = snap_box(furnished, width, depth, wanted, 0);
        REQUIRE(box_allowed(furnished, width, depth, at));
        const double distance = std::hypot(at.x - wanted.x, at.y - wanted.y);
        for (int i = 0; i <= 200; ++i)
            for (int j = 0; j <= 200; ++j) {
                const Point other{4.0 * i / 200, 5.0 * j / 200, 0};
                if (std::hypot(other.x - wanted.x, other.y - wanted.y) < distance - 1e-3)
                    REQUIRE_FALSE(box_allowed(furnished, width, depth, other));
            }
    }
}

TEST_CASE("a larger box keeps its distance to the walls it stands at") {
    // 10 cm wider in the back left corner: the centre moves 5 cm off the left wall, 10 cm deeper
    // moves it 5 cm off the back wall.
    const Point at = keep_distance(empty_room, {0.3, 4.7, 0}, 0.4, 0.4, 0.5, 0.5);
    CHECK(at.x == Approx(0.35));
    CHECK(at.y == Approx(4.65));
}

TEST_CASE("a box too wide for the room stands in its middle") {
    CHECK(snap_box(empty_room, 4.2, 0.3, {1, 2, 0}, 0.06).x == Approx(2));
}

TEST_CASE("a seat stays in the room at its height") {
    const Point at = snap_seat(empty_room, {-1, 2, 1.1}, 0.1);
    CHECK(at.x == Approx(0.1));
    CHECK(at.y == Approx(2));
    CHECK(at.z == Approx(1.1));
}
