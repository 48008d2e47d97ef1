// What a file says that can hardly be meant is asked about; what can be meant is not.
#include "placement/doubts.hpp"

#include <catch2/catch.hpp>

#include "placement/spots.hpp"
#include "placement/standing.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

Scenario usual() {
    Scenario s = small_room(0.3, 12);
    s.design.box_volume = 0.025;
    s.placed.subs = {{"corner", {0.35, 0.45, 0.2}}};
    return s;
}

std::string asked(const Scenario& s) {
    std::string all;
    for (const std::string& text :
         doubts(s, complete_driver(s.design.driver, s.acoustics.air), Units::metric))
        all += text + "\n";
    return all;
}

bool asks(const Scenario& s, const std::string& what) {
    return asked(s).find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("A usual file is not questioned") {
    CHECK(asked(usual()) == "");
}

TEST_CASE("Numbers of the driver that hardly any driver has") {
    Scenario s = usual();
    s.design.driver.fs = 310;
    CHECK(asks(s, "fs of 310 Hz"));
    s = usual();
    s.design.driver.vas = 0.76;
    CHECK(asks(s, "Vas of 760 L"));
    s = usual();
    s.design.driver.xmax = 0.022;  // twice the 11 mm of an ordinary ten-inch driver
    CHECK(asks(s, "peak to peak"));
}

TEST_CASE("A sub in a wall, on a seat, on floor kept free; a floor that is full") {
    Scenario s = usual();
    // The spot of a plan, the centre of the box, typed as the middle of the cone.
    s.placed.subs[0].at = {0.24, 0.24, 0.2};
    CHECK(asks(s, "reaches into a wall"));
    s.placed.places = {{Point{0.24, 0.24, 0}, Facing::back}};
    CHECK_FALSE(asks(s, "reaches into a wall"));
    s.placed.places = {{Point{1.3, 3.0, 0}, Facing::back}};
    CHECK(asks(s, "where \"a\" sits"));
    s = usual();
    s.wanted.keep_outs = {{"radiator", 0.2, 0.2, 1, 1}};
    CHECK(asks(s, "kept free (radiator)"));
    s.wanted.keep_outs = {{"all of it", 0, 0, 3.6, 4.4}};
    CHECK(asks(s, "no box of even 5 L may stand anywhere"));
}

TEST_CASE("A way from the door to each seat stays free") {
    Scenario s = small_room(0.3, 12);
    s.wanted.doors = {{3.6, 1.2, 0}};
    const Sides box{0.3, 0.3, 0.4};
    const Point between{2.95, 1.8, 0};  // on the line from the door to seat a, and nearly to b
    REQUIRE(box_fits(s, between, box));
    s.wanted.spots.way = 0.7;
    CHECK_FALSE(box_fits(s, between, box));
    CHECK(box_fits(s, {0.4, 0.4, 0}, box));
    // Beside the way: half its width and half the box off the line, and no more, is enough.
    s.seats = {{"a", {0.6, 1.2, 1.1}, 1}};  // straight across from the door's middle
    CHECK(box_fits(s, {2.0, 1.2 + 0.35 + 0.15 + 0.001, 0}, box));
    CHECK_FALSE(box_fits(s, {2.0, 1.2 + 0.35 + 0.15 - 0.001, 0}, box));
    s.wanted.doors.clear();
    CHECK(asks(s, "way keeps nothing free"));
}
