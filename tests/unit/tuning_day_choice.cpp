// Rooms with a door that is open on some days and shut on others: the worse day counts.
#include "tuning/day_choice.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <memory>

#include "placement/room_states.hpp"
#include "solvers/solved_rooms.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

Scenario swinging_door() {
    Scenario s = small_room(0.6, 12);
    s.judgement.uncertainty.draws = 0;
    s.acoustics.room.plan.openings = {{"door", {0, 3.2, 0}, {0, 4.0, 2.0}, -1, true},
                                      {"hatch", {3.6, 0.4, 1}, {3.6, 0.8, 1.3}, -1, false}};
    s.acoustics.solver.solved = std::make_shared<SolvedRooms>(RoomStore{}, places_of(s.seats),
                                                              s.acoustics.frequency.back());
    return s;
}

/// The worst score of a decision's boxes over both days, against one loudness.
double worst(const Scenario& s, const Driver& driver, const Decision& decision) {
    std::vector<PlacedSub> subs;
    for (const DecidedSub& sub : decision.subs)
        subs.push_back({sub.name, sub.cone, sub.dial, sub.volume});
    const ClosedBox box = closed_box(driver, decision.first().volume, s.design.filling);
    double score_of_worst = -HUGE_VAL;
    for (const Scenario& state : states_of(s))
        score_of_worst = std::max(score_of_worst, score(listen(state, driver, box, subs).criteria,
                                                        100, s.judgement.weights));
    return score_of_worst;
}

}  // namespace

TEST_CASE("A room with a swinging door has two states, and only that door swings") {
    const Scenario s = swinging_door();
    const auto states = states_of(s);
    REQUIRE(states.size() == 2);
    CHECK(states[0].acoustics.room.plan.openings.size() == 2);
    REQUIRE(states[1].acoustics.room.plan.openings.size() == 1);
    CHECK(states[1].acoustics.room.plan.openings[0].name == "hatch");
    Scenario still = s;
    still.acoustics.room.plan.openings[0].either = false;
    CHECK(states_of(still).size() == 1);
}

TEST_CASE("A space that no opening leads to any more goes, and the others keep their openings") {
    RoomPlan plan;
    plan.spaces = {{"a", {}, {1, 1, 1}, {}}, {"b", {}, {2, 2, 2}, {}}, {"c", {}, {3, 3, 3}, {}}};
    plan.openings = {
        {"to c", {}, {0, 1, 1}, 2}, {"to b", {}, {0, 1, 1}, 1}, {"out", {}, {0, 1, 1}, -1}};
    keep_joined(plan);
    REQUIRE(plan.spaces.size() == 2);
    CHECK(plan.spaces[0].name == "b");
    CHECK(plan.spaces[1].name == "c");
    CHECK(plan.openings[0].space == 1);
    CHECK(plan.openings[1].space == 0);
    CHECK(plan.openings[2].space == -1);
}

TEST_CASE("What is decided for both days is as good on its worse day as what either day decides") {
    const Scenario s = swinging_door();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    Timings timings;
    const DecisionAsk ask{{1}};
    const Decision both = decide(s, driver, ask, timings).decision;
    REQUIRE(both.states.criteria.size() == 2);
    CHECK(both.states.openings == std::vector<std::string>{"door"});
    // What counts is the worse of what listening on each day gives.
    const auto states = states_of(s);
    std::vector<PlacedSub> subs;
    for (const DecidedSub& sub : both.subs)
        subs.push_back({sub.name, sub.cone, sub.dial, sub.volume});
    const ClosedBox box = closed_box(driver, both.first().volume, s.design.filling);
    double scores[2];
    const double loudest =
        std::max(both.states.criteria[0].level_db, both.states.criteria[1].level_db);
    for (std::size_t day = 0; day < 2; ++day) {
        const Criteria there = listen(states[day], driver, box, subs).criteria;
        CHECK(there.spread_db == both.states.criteria[day].spread_db);
        scores[day] = score(there, loudest, s.judgement.weights);
    }
    CHECK(both.states.worse == (scores[1] > scores[0] ? 1U : 0U));
    CHECK(both.heard.criteria.spread_db == both.states.criteria[both.states.worse].spread_db);
    CHECK(both.heard.criteria.level_db == both.states.criteria[both.states.worse].level_db);
    // Places are compared in one box: the size follows its own rule
    // (tests/unit/placement_decision).
    for (const Scenario& day : states) {
        Decision alone = decide(day, driver, ask, timings).decision;
        for (DecidedSub& sub : alone.subs) sub.volume = both.first().volume;
        INFO(day.acoustics.room.plan.openings.size() << " openings");
        CHECK(worst(s, driver, both) <= worst(s, driver, alone) + 1e-9);
    }
}

TEST_CASE("A way is kept free from a door that is shut as well") {
    Scenario s = swinging_door();
    s.wanted.spots.way = 0.8;
    s.wanted.doors = {{0, 3.6, 0}};
    s.acoustics.room.plan.openings.clear();
    Timings timings;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const Decided all = decide(s, driver, {{2}}, timings);
    std::size_t looked_at = 0;
    for (const DecidedSub& sub : all.decision.subs)
        for (const Seat& seat : s.seats)
            for (int i = 0; i <= 100; ++i) {  // along the way, from the door to the seat
                const double x = seat.at.x * i / 100, y = 3.6 + (seat.at.y - 3.6) * i / 100;
                const Sides stands = turned(sub.outer, sub.facing);
                const double off_x =
                                 std::max(0.0, std::abs(x - sub.footprint.x) - stands.width / 2),
                             off_y =
                                 std::max(0.0, std::abs(y - sub.footprint.y) - stands.depth / 2);
                CHECK(std::hypot(off_x, off_y) > 0.4 - 0.01);
                ++looked_at;
            }
    CHECK(looked_at == 404);
}
