// The level map is `listen` at every point of the plane, whatever is dialled in.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/listening.hpp"
#include "placement/plane_map.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

/// Level at the map's frequency at the point (column, row) of its plane.
double heard_at(Scenario s, const Driver& driver, const ClosedBox& box, const FloorMap& map,
                int column, int row) {
    const double height = s.seats.front().at.z;
    s.seats = {{"there", {column * map.dx, row * map.dy, height}, 1}};
    const Listening heard = listen(s, driver, box, s.placed.subs);
    const auto at = std::find(heard.frequency.begin(), heard.frequency.end(), 40.0);
    REQUIRE(at != heard.frequency.end());
    return heard.level_db(at - heard.frequency.begin(), 0);
}

}  // namespace

TEST_CASE("Level maps hear gain, delay and polarity as listen does") {
    Scenario s = small_room(0.3, 12);
    s.acoustics.frequency = {30, 35, 40, 45, 50, 60};
    s.wanted.map_frequency = 40;
    for (Seat& seat : s.seats) seat.at.z = 1.1;
    s.placed.subs = {{"plain", {0.4, 0.5, 0.3}}, {"set", {3.1, 0.5, 0.3}}};
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    PlacedSub dialled = s.placed.subs[1];
    dialled.dial.gain_db = -5, dialled.dial.delay = 0.006, dialled.dial.polarity = -1;
    const PlacedSub plain = s.placed.subs[1];
    PlacedSub no_gain = dialled, no_delay = dialled, upright = dialled, early = dialled;
    no_gain.dial.gain_db = 0, no_delay.dial.delay = 0, upright.dial.polarity = 1,
    early.dial.delay = -dialled.dial.delay;

    s.placed.subs[1] = dialled;
    const FloorMap map = listening_plane_maps(s, driver, box).front();
    REQUIRE(map.nx > 4);
    REQUIRE(map.ny > 4);
    double furthest[5] = {};
    for (const auto& [column, row] : {std::pair{3, 2}, {map.nx / 2, map.ny / 2}, {1, map.ny - 2}}) {
        s.placed.subs[1] = dialled;
        const double level = map.value[row * map.nx + column];
        CHECK(level == Approx(heard_at(s, driver, box, map, column, row)).margin(0.01));
        int other = 0;
        for (const PlacedSub& changed : {plain, no_gain, no_delay, upright, early}) {
            s.placed.subs[1] = changed;
            const double off = std::abs(level - heard_at(s, driver, box, map, column, row));
            furthest[other] = std::max(furthest[other], off);
            ++other;
        }
    }
    for (const double off : furthest) CHECK(off > 0.3);  // or a dial that is ignored would pass
}
