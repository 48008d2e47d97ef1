// Draws of a room that is no rectangle.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/solved_rooms.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

/// A small L with a cupboard, few frequencies, few draws.
Scenario small_l() {
    Scenario s = small_room(0.9, 4);
    Room& room = s.acoustics.room;
    const Wall wall{{{9000, 0, 0}}};
    room.plan.outline = {{0, 0, 0},   {3.6, 0, 0},   {3.6, 2, 0},
                         {3.2, 2, 0}, {3.2, 4.4, 0}, {0, 4.4, 0}};
    for (int n = 0; n < 6; ++n) room.plan.edges.push_back({"", wall, "brick, plastered"});
    room.plan.blocks.push_back({"cupboard", {0, 3.8, 0}, {1, 4.4, 2}, {"", wall, "9000 Pa s/m"}});
    s.acoustics.frequency = logarithmic_grid({30, 100}, 4);
    s.acoustics.solver.solved = std::make_shared<SolvedRooms>();
    s.judgement.uncertainty.draws = 20;
    return s;
}

}  // namespace

TEST_CASE("Every surface of a floor plan and of a block is drawn, and its sides with all corners") {
    const Scenario s = small_l();
    double most_edge = 0, most_block = 0, longest = 0;
    for (int n = 0; n < 200; ++n) {
        const Draw draw = draw_inputs(s, n);
        most_edge = std::max(most_edge, draw.room.plan.edges[4].wall.branches[0].resistance);
        most_block =
            std::max(most_block, draw.room.plan.blocks[0].surface.wall.branches[0].resistance);
        const RoomPlan& plan = draw.room.plan;
        longest = std::max(longest, draw.room.width - s.acoustics.room.width);
        CHECK(plan.outline[1].x == Approx(draw.room.width));
        CHECK(plan.outline[3].x / draw.room.width == Approx(3.2 / 3.6));
        CHECK(plan.blocks[0].to.y == Approx(plan.outline[4].y));
        for (const Seat& seat : draw.seats) CHECK(in_air(draw.room, seat.at));
        CHECK(draw.room.plan.edges[4].wall.branches[0].resistance !=
              draw.room.plan.edges[3].wall.branches[0].resistance);
    }
    CHECK(longest == Approx(s.judgement.uncertainty.room).epsilon(0.05));
    CHECK(most_edge == Approx(18000).epsilon(0.05));
    CHECK(most_block == Approx(1.5 * 9000).epsilon(0.05));
}

TEST_CASE("A place that would be drawn into a block stays in the air") {
    const Room room = small_l().acoustics.room;
    const Point beside{1.03, 4.1, 0.3};
    for (const double by : {-0.05, 0.05})
        CHECK(in_air(room, moved(beside, room, room, {by, 0, 0})));
    CHECK(moved(beside, room, room, {0.05, 0, 0}).x == Approx(1.08));
}

TEST_CASE(
    "Draws of an L: nothing uncertain is the nominal case, uncertain walls and sides are heard") {
    for (const auto& [wall, side] : {std::pair{1.0, 0.0}, {2.0, 0.0}, {1.0, 0.02}}) {
        Scenario s = small_l();
        Uncertainty& u = s.judgement.uncertainty;
        u.seat = u.sub = u.driver = 0;
        u.wall = wall, u.room = side;
        const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
        const ClosedBox box = closed_box(driver, 0.025, 1);
        Timings timings;
        SetRanking ranking = rank_sets(s, driver, box, 2, timings);
        judge_robustness(s, box.volume, {&ranking}, 3, timings);
        const RankedSet& set = ranking.sets.front();
        REQUIRE(set.robustness.known);
        const double range = set.robustness.high.spread_db - set.robustness.low.spread_db;
        if (wall == 1.0 && side == 0) {
            CHECK(range < 1e-6);
            CHECK(set.robustness.middle.spread_db == Approx(set.criteria.spread_db).margin(0.1));
        } else {
            CHECK(range > (side > 0 ? 0.03 : 0.1));
        }
    }
}
