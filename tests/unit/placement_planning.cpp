// The maps show what the table says, and the box to build keeps to its rule.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/planning.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

TEST_CASE("The maps of spread and score hold the ranking's own numbers") {
    const Scenario s = small_room(0.4, 12);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    Timings timings;
    const Ranking ranking = rank_spots(s, driver, closed_box(driver, 0.025, 1), timings);
    REQUIRE(ranking.spots.size() > 5);
    int apart = 0;
    for (const RankedSpot& spot : ranking.spots) {
        const auto at = [&](const FloorMap& map) {
            const auto column = std::lround((spot.footprint.x - map.x0) / map.dx);
            const auto row = std::lround((spot.footprint.y - map.y0) / map.dy);
            return map.value[row * map.nx + column];
        };
        CHECK(at(ranking.spread_map) == spot.criteria.spread_db);
        CHECK(at(ranking.score_map) == spot.criteria.score);
        apart += std::abs(spot.criteria.spread_db - spot.criteria.score) > 0.1;
    }
    CHECK(apart > 0);
    CHECK(ranking.spread_map.name == "spread_by_spot");
    CHECK(ranking.score_map.name == "score_by_spot");
}

TEST_CASE("However little balance matters, the box to build has a Qtc of at most 1.0") {
    // Above 1.0 is poor (common practice); the sweep goes on to 1.4 and nothing else forbids it.
    Scenario s = small_room(0.6, 12);
    s.design.driver.sd = {}, s.design.driver.xmax = {};  // any box takes this driver
    s.design.sweep = QtcSweep{0.5, 1.4, 37};             // steps of 0.025
    s.judgement.target.indifference = 20;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    Timings timings;
    const Plan plan = make_plan(s, driver, timings);
    REQUIRE(plan.boxes[plan.in_room_best].qtc < 1.0);
    CHECK(plan.boxes[plan.build].qtc <= 1.0 + 1e-9);
    CHECK(plan.boxes[plan.build].qtc > 0.97);
}
