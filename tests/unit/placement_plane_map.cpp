// Dials, several subs and the room's pressure on the cones: what is heard at a seat, and the map of
// the level over the floor beside it. Derivations are by hand.
#include "placement/plane_map.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "placement/listening.hpp"
#include "small_room.hpp"

using namespace boxroom;

namespace {

struct Case {
    Scenario s = small_room(0.5, 6);
    Driver driver;
    ClosedBox box;
    Case() {
        s.seats.resize(1);
        s.seats[0].at = {1.3, 3.0, 1.1};
        driver = complete_driver(s.design.driver, s.acoustics.air);
        box = closed_box(driver, 0.025, 1);
    }
    Listening heard(const std::vector<PlacedSub>& subs) const {
        return listen(s, driver, box, subs);
    }
};

const Point corner{0.4, 0.4, 0.2};

}  // namespace

// Two subs in one place: in step 6.02 dB more than one, turned round silence, half a period late
// (10 ms at 50 Hz) silence there, and with one at -6.02 dB (half) 20 log10 1.5 = 3.52 dB. On an
// endless floor they count in step whatever is dialled in. Catches a sign or size of a dial, and a
// half space that adds with the dials' phases.
TEST_CASE("Two subs in one place add as their dials say") {
    Case c;
    c.s.acoustics.frequency = {40, 50, 60};
    const Listening one = c.heard({{"a", corner}});
    const auto gain = [&](const Dial& second) {
        return c.heard({{"a", corner}, {"b", corner, second}}).level_db(1, 0) - one.level_db(1, 0);
    };
    CHECK(gain({}) == Approx(6.0206).margin(1e-3));
    CHECK(gain({-6.0206, 0, 1}) == Approx(3.5218).margin(1e-3));
    CHECK(gain({-6.0206, 0, -1}) == Approx(-6.0206).margin(1e-3));
    CHECK(gain({0, 0, -1}) < -150);
    CHECK(gain({0, 10e-3, 1}) < -150);
    CHECK(gain({0, 5e-3, 1}) == Approx(3.0103).margin(1e-3));
    const Listening against = c.heard({{"a", corner}, {"b", corner, {0, 0, -1}}});
    CHECK(against.half_space_db[1] - one.half_space_db[1] == Approx(6.0206).margin(1e-3));
}

TEST_CASE("The level map is what is heard where a seat stands") {
    Case c;
    c.s.wanted.map_frequency = c.s.acoustics.frequency[8];
    c.s.placed.subs = {{"a", corner, {-3, 2e-3, 1}}, {"b", {3.2, 3.9, 0.2}, {0, 5e-3, -1}}};
    // A seat on one of the plane's points.
    const FloorMap plane = listening_plane_maps(c.s, c.driver, c.box)[0];
    const int at = 30 * plane.nx + 13;
    c.s.seats[0].at = {13 * plane.dx, 30 * plane.dy, 1.1};
    double change = 0;
    std::vector<double> before;
    for (const bool loaded : {false, true}) {
        c.s.placed.cone_load = loaded;
        const Listening heard = c.heard(c.s.placed.subs);
        const auto maps = listening_plane_maps(c.s, c.driver, c.box);
        REQUIRE(maps.size() == 2);
        const FloorMap& map = maps[0];
        CHECK(map.value[at] == Approx(heard.level_db(8, 0)).margin(0.01));
        // The band: power mean over ln f, by the trapezoid rule between its points.
        double sum = 0, width = 0;
        for (std::size_t f = 1; f < heard.frequency.size(); ++f) {
            const Band& band = c.s.judgement.target.band;
            if (!band.contains(heard.frequency[f - 1]) || !band.contains(heard.frequency[f]))
                continue;
            const double step = std::log(heard.frequency[f] / heard.frequency[f - 1]);
            sum += step *
                   (std::pow(10, heard.level_db(f, 0) / 10) +
                    std::pow(10, heard.level_db(f - 1, 0) / 10)) /
                   2;
            width += step;
        }
        CHECK(maps[1].value[at] == Approx(10 * std::log10(sum / width)).margin(0.01));
        for (const double level : heard.level_db.values()) before.push_back(level);
        if (loaded)
            for (std::size_t f = 0; f < heard.frequency.size(); ++f)
                change = std::max(change, std::abs(before[f] - before[f + heard.frequency.size()]));
    }
    CHECK(change > 0.05);  // the load is there to be left out
}
