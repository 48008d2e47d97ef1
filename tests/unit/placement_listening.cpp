// What several subs do together on an endless floor, and how loud they play.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/listening.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

struct Played {
    Scenario s = small_room(0.3, 12);
    Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    ClosedBox box = closed_box(driver, 0.025, 1);
    Listening operator()(const std::vector<PlacedSub>& subs) const {
        return listen(s, driver, box, subs);
    }
};

}  // namespace

TEST_CASE("Half space adds the amounts of several subs, whatever their delay and polarity") {
    // Side by side on an endless floor and in step they would give 6.02 dB more than one.
    const Played play;
    const PlacedSub one{"one", {0.4, 0.5, 0.3}};
    PlacedSub other{"other", {3.1, 0.5, 0.3}};
    const auto alone = play({one}).half_space_db;
    other.dial.delay = 0.004, other.dial.polarity = -1;
    const auto both = play({one, other}).half_space_db;
    for (std::size_t f = 0; f < alone.size(); ++f)
        CHECK(both[f] - alone[f] == Approx(20 * std::log10(2.0)).margin(1e-9));
    other.dial.gain_db = -6;
    const auto softer = play({one, other}).half_space_db;
    CHECK(softer[3] - alone[3] == Approx(20 * std::log10(1 + std::pow(10, -0.3))).margin(1e-9));
}

TEST_CASE("What ends a sub does not move with its gain") {
    // Turned down by 10 dB at its amplifier's input, one sub plays as loud as before, turned up.
    const Played play;
    PlacedSub sub{"sub", {0.4, 0.5, 0.3}};
    const auto before = play({sub});
    sub.dial.gain_db = -10;
    const auto after = play({sub});
    REQUIRE(before.max_level_db.size() == before.frequency.size());
    for (std::size_t f = 0; f < before.frequency.size(); ++f) {
        CHECK(after.seat_average_db[f] == Approx(before.seat_average_db[f] - 10).margin(1e-9));
        CHECK(after.max_level_db[f] == Approx(before.max_level_db[f]).margin(1e-9));
    }
}

TEST_CASE("Of two subs the one that is driven further ends both") {
    const Played play;
    const PlacedSub one{"one", {0.4, 0.5, 0.3}};
    PlacedSub louder{"louder", {3.1, 0.5, 0.3}};
    const auto alike = play({one, louder});
    louder.dial.gain_db = 6;
    const auto unlike = play({one, louder});
    for (std::size_t f = 0; f < alike.frequency.size(); ++f) {
        const double room = unlike.max_level_db[f] - unlike.seat_average_db[f];
        CHECK(room == Approx(alike.max_level_db[f] - alike.seat_average_db[f] - 6).margin(1e-9));
    }
}
