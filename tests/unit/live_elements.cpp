// The live page in a room that is no rectangle: the same answers as `listen` and `rank` once the
// seats were learnt, and nearly so while they are moved.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "live/flat_scenario.hpp"
#include "live/live_room.hpp"
#include "placement/room_surfaces.hpp"
#include "placement/spots.hpp"
#include "solvers/solved_rooms.hpp"

using namespace boxroom;

namespace {

/// An L with a pillar, its band low so that it is learnt within a second or two.
Scenario scenario() {
    Scenario s;
    Room& room = s.acoustics.room;
    room.width = 4.4, room.length = 3.8, room.height = 2.4;
    const Wall brick = wall_from_absorption(0.04, s.acoustics.air);
    room.walls.fill(wall_from_absorption(0.12, s.acoustics.air));
    room.plan.outline = {{0, 0}, {4.4, 0}, {4.4, 2.2}, {2.4, 2.2}, {2.4, 3.8}, {0, 3.8}};
    for (int edge = 0; edge < 6; ++edge)
        room.plan.edges.push_back({"edge_" + std::to_string(edge + 1), brick, ""});
    room.plan.edges[1].wall.branches.push_back({900, 9, 6e5});
    room.plan.blocks = {{"pillar", {1.2, 0, 0}, {1.6, 0.4, 2.4}, {"", brick, ""}}};
    s.design.driver = {27, 0.45, 0.038, 0.495, {}, 3.4, {}, 0.033, {}, {}, {}, {}};
    s.design.box_volume = 0.025, s.design.filling = 1.15;
    s.seats = {{"a", {0.9, 2.9, 1.05}, 1}, {"b", {1.7, 2.9, 1.05}, 1.5}};
    s.placed.subs = {{"sub", {0.5, 0.4, 0.2}}};
    s.judgement.target.band = {30, 100};
    s.acoustics.frequency = logarithmic_grid({15, 110}, 12);
    return s;
}

/// How far the live answer's levels are from those of `listen`, which solves the room by itself;
/// nulls 15 dB under the median left out, as in ReducedReport.
double off(const LiveAnswer& a, Scenario s) {
    s.seats = a.at_seats.seats;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const Listening want = listen(s, driver, a.box, a.at_seats.subs);
    const auto mine = a.at_seats.level_db.values(), theirs = want.level_db.values();
    REQUIRE(mine.size() == theirs.size());
    std::vector<double> sorted(theirs.begin(), theirs.end());
    std::ranges::sort(sorted);
    double worst = 0;
    for (std::size_t i = 0; i < mine.size(); ++i)
        if (theirs[i] > sorted[sorted.size() / 2] - 15)
            worst = std::max(worst, std::abs(mine[i] - theirs[i]));
    return worst;
}

/// What one room has learnt serves the tests that only want it to be learnt.
const std::string& learnt_once() {
    static const std::string kept = [] {
        LiveRoom room(scenario());
        std::vector<double> told;
        room.learn([&](double share) { told.push_back(share); });
        CHECK(told.size() >= 2);
        CHECK(told.front() == 0);
        CHECK(std::ranges::is_sorted(told));
        return std::string(room.kept());
    }();
    return kept;
}

LiveRoom learnt_room() {
    LiveRoom room(scenario());
    REQUIRE(room.take(learnt_once()));
    return room;
}

/// A room that was changed: an answer that has moved and is `nearly` what listen says [dB]; what it
/// says once it has learnt.
LiveAnswer draft_then_learnt(LiveRoom& room, const Scenario& s, double spread_before,
                             double nearly) {
    const LiveAnswer draft = room.answer();
    CHECK(draft.draft);
    CHECK(std::abs(draft.at_seats.criteria.spread_db - spread_before) > 0.1);
    CHECK(off(draft, s) < nearly);
    room.learn({});
    const LiveAnswer learnt = room.answer();
    CHECK_FALSE(learnt.draft);
    CHECK(off(learnt, s) < 0.01);
    return learnt;
}

}  // namespace

TEST_CASE("in an L a box is heard as listen hears it, wherever it is put") {
    const Scenario s = scenario();
    LiveRoom room = learnt_room();
    CHECK(off(room.answer(), s) < 0.05);
    room.set_place(0, 3.9, 1.7, Facing::inward);
    room.set_box(0.06, 1.15);
    const LiveAnswer moved = room.answer();
    CHECK_FALSE(moved.draft);
    CHECK(off(moved, s) < 0.05);
}

TEST_CASE("a moved seat is a draft until it is learnt") {
    const Scenario s = scenario();
    LiveRoom room = learnt_room();
    const double before = room.answer().at_seats.criteria.spread_db;
    room.set_seat(1, {3.2, 1.6, 1.05});
    const LiveAnswer learnt = draft_then_learnt(room, s, before, 1);
    // And handed on to another engine, which has not learnt anything.
    LiveRoom other(scenario_from_flat(flat_scenario(s)));
    CHECK_FALSE(other.take(std::string(room.kept())));  // not for these seats
    other.set_seat(1, {3.2, 1.6, 1.05});
    CHECK_FALSE(other.take(learnt_once()));
    CHECK_FALSE(other.take("something else"));
    REQUIRE(other.take(std::string(room.kept())));
    const auto mine = other.answer().at_seats.level_db.values(),
               theirs = learnt.at_seats.level_db.values();
    for (std::size_t i = 0; i < theirs.size(); ++i)
        CHECK(mine[i] == Approx(theirs[i]).margin(1e-6));
    // The first seats are soon back: nothing is solved again.
    room.set_seat(1, s.seats[1].at);
    CHECK(room.answer().draft);
    room.learn([](double) { FAIL("solved again"); });
    CHECK_FALSE(room.answer().draft);
    CHECK(room.answer().at_seats.criteria.spread_db == Approx(before).margin(1e-6));
    CHECK(LiveRoom(s).take(std::string(room.kept())));
}

TEST_CASE("other surfaces of an L are a draft until they are learnt") {
    Scenario s = scenario();
    LiveRoom room = learnt_room();
    const double before = room.answer().at_seats.criteria.spread_db;
    // An edge, the ceiling (edges come first, then the floor) and the pillar.
    const Wall soft = wall_from_absorption(0.4, s.acoustics.air),
               hard = wall_from_absorption(0.01, s.acoustics.air);
    const auto surfaces = room_surfaces(s);
    for (const auto& [surface, wall] : {std::pair{3, soft}, {7, hard}, {8, soft}}) {
        room.set_wall(surface, wall);
        surfaces[surface].in(s.acoustics.room) = wall;
    }
    room.set_softness(1.25);
    for (const RoomSurface& surface : surfaces)
        surface.in(s.acoustics.room) = softened(surface.in(s.acoustics.room), 1.25);
    draft_then_learnt(room, s, before, 0.3);
    // Another engine has this room only once it has the same surfaces.
    LiveRoom other(scenario());
    CHECK_FALSE(other.take(std::string(room.kept())));
    LiveRoom same(s);
    CHECK(same.take(std::string(room.kept())));
    // A part of an edge is as the file's parts are, and a pillar has none.
    const Room& is = room.scenario().acoustics.room;
    const double area = 1.6 * 2.4;  // of edge_4, from (2.4, 2.2) to (2.4, 3.8)
    room.set_softness(1);
    room.set_part(3, hard, area / 4);
    const auto admittance = [&s](const Wall& wall) {
        return wall.admittance(400, s.acoustics.air);
    };
    const auto mean = 0.75 * admittance(soft) + 0.25 * admittance(hard);
    CHECK(std::abs(admittance(is.plan.edges[3].wall) - mean) < 1e-12);
    CHECK_THROWS_AS(room.set_part(8, hard, 0.1), Error);
}

TEST_CASE("boxes and seats stay in the air of an L") {
    const Scenario s = scenario();
    const Room& l = s.acoustics.room;
    LiveRoom room = learnt_room();
    for (const auto& [x, y] :
         {std::pair{3.6, 3.2}, {2.6, 3.7}, {1.4, 0.2}, {4.4, 3.8}, {2.3, 2.4}}) {
        INFO("at " << x << ", " << y);
        room.set_place(0, x, y, Facing::inward);
        const BoxStanding box = room.answer().standing[0];
        const double w = box.sides.width / 2, d = box.sides.depth / 2;
        CHECK(l.plan.free_floor(box.footprint.x - w, box.footprint.y - d, box.footprint.x + w,
                                box.footprint.y + d, box.sides.height, s.wanted.spots.gap));
        CHECK(in_air(l, box.cone));
        CHECK(std::hypot(box.footprint.x - x, box.footprint.y - y) < 2);
        room.set_place(0, box.footprint.x, box.footprint.y, box.facing);
        const BoxStanding again = room.answer().standing[0];
        CHECK(std::hypot(again.footprint.x - box.footprint.x, again.footprint.y - box.footprint.y) <
              1e-6);
        room.set_seat(0, {x, y, 1});
        const Point seat = room.scenario().seats[0].at;
        CHECK(in_air(l, seat));
        CHECK(seat.z == 1);
    }
    room.set_seat(0, {3.6, 2.5, 1});
    CHECK(room.scenario().seats[0].at.y == Approx(2.2).margin(0.01));  // the nearest wall
}

TEST_CASE("the map of an L holds at each spot the spread of a box that stands there") {
    Scenario s = scenario();
    s.design.enclosure.facing = Facing::back;  // no box is turned, so the spots form a regular grid
    LiveRoom room(s);
    REQUIRE(room.take(learnt_once()));
    const FloorMap map = room.spread_map(0, 0.7);
    int compared = 0, none = 0;
    for (int i = 0; i < map.nx * map.ny; ++i) {
        const double x = map.x0 + i % map.nx * map.dx, y = map.y0 + i / map.nx * map.dy;
        room.set_place(0, x, y, Facing::back);
        const LiveAnswer a = room.answer();
        const Point& at = a.standing[0].footprint;
        if (std::hypot(at.x - x, at.y - y) > 1e-6) {  // no air there
            CHECK(map.valid[i] == 0);
            ++none;
            continue;
        }
        CHECK((a.fits[0] != 0) == (map.valid[i] != 0));
        if (!a.fits[0]) continue;
        CHECK(map.value[i] == Approx(a.at_seats.criteria.spread_db).margin(0.01));
        ++compared;
    }
    CHECK(compared > 10);
    CHECK(none > 4);
}

TEST_CASE("balance by Qtc in an L is the balance of each of those boxes") {
    const Scenario s = scenario();
    LiveRoom room = learnt_room();
    const std::vector<double> qtc{0.55, 0.7071, 1.1};
    const auto balance = room.balance_by_qtc(qtc);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    for (std::size_t i = 0; i < qtc.size(); ++i) {
        room.set_box(closed_box_for_qtc(driver, qtc[i], s.design.filling).volume, 1.15);
        CHECK(balance[0][i] == Approx(room.answer().at_seats.criteria.balance_db).margin(0.01));
    }
}

TEST_CASE("all that the fields of a room depend on comes back from its numbers") {
    Scenario s = scenario();
    const Wall curtain = wall_from_absorption(0.5, s.acoustics.air);
    s.acoustics.room.plan.spaces = {{"hall", {-2, 0, 0}, {-0.1, 2, 2.4}, {}}};
    for (int wall = 0; wall < 6; ++wall)
        s.acoustics.room.plan.spaces[0].walls.push_back({wall_names[wall], curtain, ""});
    s.acoustics.room.plan.openings = {{"door", {0, 0.5, 0}, {0, 1.3, 2}, 0, true},
                                      {"window", {0, 3, 1}, {0, 3.5, 2}, -1}};
    const Scenario back = scenario_from_flat(flat_scenario(s));
    const auto key = [](const Scenario& one) {
        return solved_room_key(one.acoustics.room, one.acoustics.air, 150, {});
    };
    CHECK(key(back) == key(s));
    CHECK(back.acoustics.room.plan.openings[0].either);
    Scenario other = s;
    other.acoustics.room.plan.blocks[0].surface.wall = curtain;
    CHECK(key(scenario_from_flat(flat_scenario(other))) != key(s));
}
