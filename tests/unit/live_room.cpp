// The live page's engine, compiled natively: the same answers as `listen` and `rank`, whatever was
// moved before, and through the flat functions that the page calls.
#include <catch2/catch.hpp>
#include <cmath>

#include "live/flat_scenario.hpp"
#include "live/live_exports.hpp"
#include "live/live_room.hpp"
#include "placement/criteria.hpp"

using namespace boxroom;

namespace {

Scenario scenario() {
    Scenario s;
    s.acoustics.room.width = 4.1, s.acoustics.room.length = 5.2, s.acoustics.room.height = 2.45;
    const double absorption[] = {0.03, 0.25, 0.18, 0.05, 0.15, 0.1};
    for (int w = 0; w < 6; ++w)
        s.acoustics.room.walls[w] = wall_from_absorption(absorption[w], s.acoustics.air);
    s.acoustics.room.walls[1].branches = {{2200, 11, 1.8e6}, {9000, 0, 0}};
    s.acoustics.room.contents = {9.6, 3, 140};
    s.design.driver = {27, 0.45, 0.038, 0.495, {}, 3.4, {}, 0.033, {}, {}, {}, {}};
    s.design.box_volume = 0.025, s.design.filling = 1.15;
    s.seats = {
        {"a", {1.35, 3.6, 1.05}, 1}, {"b", {2.05, 3.6, 1.05}, 1.5}, {"c", {3.2, 2.6, 1}, 0.5}};
    s.wanted.keep_outs = {{"door", 3.2, 4.3, 4.1, 5.2}};
    s.placed.subs = {{"sub", {0.5, 0.4, 0.2}}};
    s.judgement.target.band = {30, 120};
    s.acoustics.frequency = logarithmic_grid({10, 200}, 12);
    return s;
}

Listening listened(const LiveAnswer& a, const Scenario& s) {
    return listen(s, complete_driver(s.design.driver, s.acoustics.air), a.box, a.at_seats.subs);
}

double worst(const std::vector<double>& a, const std::vector<double>& b) {
    REQUIRE(a.size() == b.size());
    double out = 0;
    for (std::size_t i = 0; i < a.size(); ++i) out = std::max(out, std::abs(a[i] - b[i]));
    return out;
}

}  // namespace

TEST_CASE("after any change the live room answers as listen does") {
    Scenario s = scenario();
    LiveRoom room(s);
    const auto agrees = [&](const char* after) {
        INFO(after);
        const LiveAnswer a = room.answer();
        const Listening want = listened(a, s);
        CHECK(worst(a.at_seats.level_db.values(), want.level_db.values()) < 0.001);
        CHECK(worst(a.at_seats.seat_average_db, want.seat_average_db) < 0.001);
        CHECK(a.at_seats.criteria.spread_db == Approx(want.criteria.spread_db).margin(1e-3));
        CHECK(a.at_seats.criteria.reach_hz == Approx(want.criteria.reach_hz));
        return a.at_seats.criteria.spread_db;
    };
    const double start = agrees("opening");
    room.set_place(0, 2.9, 1.1, Facing::left);
    CHECK(std::abs(agrees("moving the box") - start) > 0.1);
    s.seats[1].at = {0.8, 2.9, 1.2};
    room.set_seat(1, s.seats[1].at);
    agrees("moving a seat");
    s.acoustics.room.walls[2] = wall_from_absorption(0.4, s.acoustics.air);
    room.set_wall(2, s.acoustics.room.walls[2]);
    agrees("another wall");
    s.acoustics.room.walls[5] = wall_from_absorption(0.02, s.acoustics.air);
    room.set_wall(5, s.acoustics.room.walls[5]);
    agrees("another ceiling");
    for (Wall& wall : s.acoustics.room.walls) wall = softened(wall, 1.5);
    room.set_softness(1.5);
    agrees("softer walls");
    s.design.filling = 1.3;
    room.set_box(0.06, 1.3);
    agrees("a larger box");
    room.set_place(0, 1.4, 1.2, Facing::up);  // the cone 0.5 m above the floor, seats at 1.0
    agrees("a driver that looks up");
    s.seats[0].at.z = 0.4;
    room.set_seat(0, s.seats[0].at);  // level with the cone: pair by pair
    agrees("a seat as low as the cone");
}

TEST_CASE("the box stays between the walls and knows where it may not stand") {
    LiveRoom room(scenario());
    room.set_place(0, -3, 99, Facing::inward);
    const LiveAnswer corner = room.answer();
    CHECK(corner.standing[0].footprint.x == Approx(0.05 + corner.standing[0].sides.width / 2));
    CHECK(corner.standing[0].footprint.y ==
          Approx(5.2 - 0.05 - corner.standing[0].sides.depth / 2));
    CHECK(corner.standing[0].facing == Facing::front);  // away from the wall behind it
    CHECK(corner.fits[0]);
    room.set_place(0, 3.6, 4.7, Facing::inward);
    CHECK_FALSE(room.answer().fits[0]);  // in the door's swing
    room.set_place(0, 1.35, 3.5, Facing::inward);
    CHECK_FALSE(room.answer().fits[0]);  // on the sofa
}

TEST_CASE("a box put where it stands stays there, however it is turned") {
    Scenario s = scenario();
    s.design.enclosure.proportion_width = 1.6;  // a box looking sideways takes more of the length
    s.design.enclosure.itemised = s.design.enclosure.double_front =
        true;  // and one looking up is another box
    LiveRoom room(s);
    for (double x = 0.3; x < 4; x += 0.213)
        for (double y = 0.3; y < 5; y += 0.371) {
            room.set_place(0, x, y, Facing::inward);
            const Point first = room.answer().standing[0].footprint;
            room.set_place(0, first.x, first.y, Facing::up);
            room.set_place(0, first.x, first.y, Facing::inward);
            const Point again = room.answer().standing[0].footprint;
            INFO("at " << x << ", " << y << ": " << first.x << ", " << first.y);
            CHECK(std::hypot(again.x - first.x, again.y - first.y) < 1e-9);
        }
}

TEST_CASE("the map holds at each spot the spread of a box that stands there") {
    Scenario s = scenario();
    s.design.enclosure.facing = Facing::back;  // no box is turned, so the spots form a regular grid
    LiveRoom room(s);
    const FloorMap map = room.spread_map(0, 0.9);
    int compared = 0;
    for (int i = 0; i < map.nx * map.ny; ++i) {
        room.set_place(0, map.x0 + i % map.nx * map.dx, map.y0 + i / map.nx * map.dy, Facing::back);
        const LiveAnswer a = room.answer();
        CHECK((a.fits[0] != 0) == (map.valid[i] != 0));
        if (!a.fits[0]) continue;
        // The map gives the places of unturned boxes; a box turned to look sideways stands up to
        // half the difference of its sides away, 7 mm here.
        CHECK(map.value[i] == Approx(a.at_seats.criteria.spread_db).margin(0.05));
        ++compared;
    }
    CHECK(compared > 10);
}

TEST_CASE("balance by Qtc is the balance of each of those boxes at the place") {
    const Scenario s = scenario();
    LiveRoom room(s);
    room.set_place(0, 0.3, 2.5, Facing::inward);
    const std::vector<double> qtc{0.55, 0.6, 0.7071, 0.9, 1.2};
    const auto balance = room.balance_by_qtc(qtc);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const Judge judge(s.acoustics.frequency, s.seats, s.judgement.target);
    for (std::size_t i = 0; i < qtc.size(); ++i) {
        const ClosedBox box = closed_box_for_qtc(driver, qtc[i], s.design.filling);
        room.set_box(box.volume, s.design.filling);
        CHECK(balance[0][i] == Approx(room.answer().at_seats.criteria.balance_db).margin(0.01));
        const auto u = volume_velocity(driver, box, s.acoustics.frequency, s.acoustics.air);
        CHECK(balance[1][i] ==
              Approx(judge.balance(half_space_power(s.acoustics.frequency, u, s.acoustics.air)))
                  .margin(1e-9));
    }
    CHECK(std::abs(balance[0][0] - balance[0][4]) > 0.3);
    CHECK_THROWS(room.balance_by_qtc(std::vector<double>{0.4}));
}

TEST_CASE("two boxes with dials answer, tilt and map as listen says") {
    Scenario s = scenario();
    s.design.enclosure.facing = Facing::back;
    s.placed.subs = {{"one", {0.6, 0.5, 0.2}, {-2.5, 0, 1}},
                     {"two", {3.3, 3.1, 0.2}, {0, 6.2e-3, -1}}};
    LiveRoom room(s);
    const LiveAnswer a = room.answer();
    REQUIRE(a.standing.size() == 2);
    CHECK(a.at_seats.subs[1].dial == s.placed.subs[1].dial);
    CHECK(worst(a.at_seats.level_db.values(), listened(a, s).level_db.values()) < 0.001);

    // Each is moved by itself, and its dials count.
    room.set_place(1, 2.9, 1.3, Facing::left);
    room.set_dial(0, {-6, 3e-3, -1});
    const LiveAnswer b = room.answer();
    CHECK(b.standing[0].cone.x == a.standing[0].cone.x);
    CHECK(std::abs(b.standing[1].cone.x - a.standing[1].cone.x) > 0.1);
    CHECK(worst(b.at_seats.level_db.values(), listened(b, s).level_db.values()) < 0.001);
    CHECK(worst(b.at_seats.level_db.values(), a.at_seats.level_db.values()) > 1);

    // The balance of another box is what it has once it stands there.
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const std::vector<double> qtc{0.6, 1.0};
    const auto balance = room.balance_by_qtc(qtc);
    for (std::size_t i = 0; i < qtc.size(); ++i) {
        room.set_box(closed_box_for_qtc(driver, qtc[i], s.design.filling).volume, s.design.filling);
        CHECK(balance[0][i] == Approx(room.answer().at_seats.criteria.balance_db).margin(0.01));
    }

    // The map of either: what that box gives there while the other stays, and none on top of it.
    room.set_place(1, 3.3, 3.1, Facing::back);
    for (const int sub : {0, 1}) {
        const FloorMap map = room.spread_map(sub, 0.8);
        const Point home = room.answer().standing[sub].footprint;
        const Point other = room.answer().standing[1 - sub].footprint;
        int compared = 0;
        for (int i = 0; i < map.nx * map.ny; ++i) {
            const double x = map.x0 + i % map.nx * map.dx, y = map.y0 + i / map.nx * map.dy;
            room.set_place(sub, x, y, Facing::back);
            const LiveAnswer there = room.answer();
            CHECK((there.fits[sub] != 0) == (map.valid[i] != 0));
            if (!map.valid[i]) continue;
            CHECK(map.value[i] == Approx(there.at_seats.criteria.spread_db).margin(0.02));
            ++compared;
        }
        CHECK(compared > 10);
        room.set_place(sub, other.x + 0.1, other.y, Facing::back);
        CHECK_FALSE(room.answer().fits[sub]);
        room.set_place(sub, home.x, home.y, Facing::back);
    }
}

TEST_CASE("a scenario comes back from its numbers as it was") {
    Scenario s = scenario();
    s.placed.subs[0].dial = {-3, 4e-3, -1};
    const auto numbers = flat_scenario(s);
    const Scenario back = scenario_from_flat(numbers);
    CHECK(back.design.driver.sd == s.design.driver.sd);
    CHECK_FALSE(back.design.driver.qms.has_value());
    CHECK(back.acoustics.room.walls[1].branches[0].stiffness == 1.8e6);
    CHECK(back.acoustics.frequency == s.acoustics.frequency);
    CHECK(back.wanted.keep_outs[0].y1 == 5.2);
    CHECK(back.placed.subs[0].dial == s.placed.subs[0].dial);
    CHECK_THROWS(scenario_from_flat(std::span(numbers).first(numbers.size() - 1)));
}

TEST_CASE("the page works with the same outer size as plan and build") {
    Scenario s = scenario();
    s.design.enclosure.itemised = true, s.design.enclosure.double_front = true,
    s.design.enclosure.tallest = 0.4;
    s.design.enclosure.bodies.driver.value = 0.0021,
    s.design.enclosure.bodies.amplifier.value = 0.0013;
    s.design.enclosure.bodies.braces = 2, s.design.enclosure.bodies.cleats = false;
    for (const bool given : {false, true}) {
        if (given) s.design.enclosure.bodies.bracing = 0.004;
        const Scenario back = scenario_from_flat(flat_scenario(s));
        const Sides a = enclosure(0.05, s.design.enclosure),
                    b = enclosure(0.05, back.design.enclosure);
        CHECK(a.width == b.width);
        CHECK(a.depth == b.depth);
        CHECK(a.height == b.height);
    }
}

TEST_CASE("the page's functions give the numbers of the live room in their order") {
    const Scenario s = scenario();
    const auto flat = flat_scenario(s);
    double* numbers = live_numbers(static_cast<int>(flat.size()));
    std::copy(flat.begin(), flat.end(), numbers);
    LiveHandle* handle = live_open(numbers, static_cast<int>(flat.size()));
    live_set_place(handle, 0, 2.9, 1.1, static_cast<int>(Facing::left));
    live_set_wall_absorption(handle, 0, 0.3);
    live_set_seat(handle, 2, 3, 2.5, 1.1);
    LiveRoom room(s);
    room.set_place(0, 2.9, 1.1, Facing::left);
    room.set_wall(0, wall_from_absorption(0.3, s.acoustics.air));
    room.set_seat(2, {3, 2.5, 1.1});
    const LiveAnswer want = room.answer();
    const double* got = live_answer(handle);
    const std::size_t frequencies = s.acoustics.frequency.size();
    CHECK(got[0] == 1);
    REQUIRE(got[1] == double(frequencies));
    REQUIRE(got[2] == 3);
    CHECK(got[3] == want.box.qtc);
    CHECK(got[6] == 0);                                                    // no draft
    CHECK(std::vector(got + 13, got + 16) == std::vector{3.0, 2.5, 1.1});  // seat c
    CHECK(got[16] == 1);
    CHECK(got[17] == want.standing[0].footprint.x);
    CHECK(got[21] == want.at_seats.subs[0].at.z);
    const Criteria& c = want.at_seats.criteria;
    CHECK(got[26] == Approx(c.spread_db));  // the five on pages, in the order of criterion_table
    CHECK(got[27] == Approx(c.unevenness_db));
    CHECK(got[28] == Approx(c.balance_db));
    CHECK(got[29] == Approx(c.level_db));
    CHECK(got[30] == c.reach_hz);
    CHECK(got[31 + frequencies + 4] == Approx(want.at_seats.level_db(4, 1)));  // seat b
    CHECK(got[31 + 3 * frequencies + 4] == Approx(want.at_seats.seat_average_db[4]));
    CHECK(got[31 + 8 * frequencies - 1] == Approx(want.at_seats.lift_db.back()));
    live_set_softness(handle, 2);
    const double* wall = live_wall(handle, 1);
    CHECK(wall[0] == 2);
    CHECK(wall[2] == 5.5);  // 11 kg/m2 halved
    live_set_softness(handle, 1);
    // A third of a wall that is something else: y = 2/3 y0 + 1/3 y1, so R, M and K are 3/2 and 3
    // times their own.
    double* part = live_numbers(3);
    part[0] = 600, part[1] = 2, part[2] = 30;
    live_set_part(handle, 1, part, 1, 5.2 * 2.45 / 3);
    wall = live_wall(handle, 1);
    CHECK(wall[0] == 3);
    CHECK(wall[1] == Approx(2200 * 1.5));
    CHECK(wall[7] == Approx(1800));
    CHECK(wall[9] == Approx(90));
    // Absorption of 0.005 all round rings as no room does (heavy ones: 0.02, Maluski & Gibbs 2004).
    CHECK(std::string(live_decay(handle)).find("too live") == std::string::npos);
    for (int w = 0; w < 6; ++w) live_set_wall_absorption(handle, w, 0.005);
    CHECK(std::string(live_decay(handle)).find("too live") != std::string::npos);
    const double* map = live_map(handle, 0, 0.9);
    CHECK(map[0] >= 4);
    CHECK(map[6] > 0);
    live_close(handle);
}
