// Where a driver looks: words, directions, and which sides run along which wall.
#include "base/sides.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

TEST_CASE("A facing has one name, which reads back") {
    for (const Facing facing : all_facings) CHECK(facing_named(facing_name(facing)) == facing);
    CHECK_FALSE(facing_named("north"));
    CHECK_FALSE(facing_named(""));
    CHECK(facing_words(Facing::left) == "the left wall");
    CHECK(facing_words(Facing::up) == "up");
}

// x runs from the left wall, y from the front wall, z from the floor (the room file's convention).
TEST_CASE("A driver looks towards the wall it faces") {
    CHECK(direction(Facing::left) == Point{-1, 0, 0});
    CHECK(direction(Facing::right) == Point{1, 0, 0});
    CHECK(direction(Facing::front) == Point{0, -1, 0});
    CHECK(direction(Facing::back) == Point{0, 1, 0});
    CHECK(direction(Facing::up) == Point{0, 0, 1});
    CHECK(direction(Facing::down) == Point{0, 0, -1});
}

TEST_CASE("A box that looks sideways is turned by a quarter") {
    const Sides box{0.4, 0.3, 0.5};
    for (const Facing facing : {Facing::left, Facing::right})
        CHECK(turned(box, facing) == Sides{0.3, 0.4, 0.5});
    for (const Facing facing : {Facing::front, Facing::back, Facing::up, Facing::down})
        CHECK(turned(box, facing) == box);
    CHECK(lies(Facing::down));
    CHECK_FALSE(lies(Facing::back));
}
