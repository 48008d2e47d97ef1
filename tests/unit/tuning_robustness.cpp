// Each uncertain input is drawn, and each draw is heard.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

/// A room in which nothing is uncertain, and few draws.
Scenario certain() {
    Scenario s = small_room(0.6, 12);
    Uncertainty& u = s.judgement.uncertainty;
    u.draws = 40;
    u.seat = u.sub = u.room = u.driver = 0;
    u.wall = 1;
    return s;
}

/// 10 to 90 % of the draws of the best set of two, of one criterion.
double range_of(const Scenario& s, double Criteria::*member) {
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    Timings timings;
    SetRanking ranking = rank_sets(s, driver, box, 2, timings);
    judge_robustness(s, box.volume, {&ranking}, 3, timings);
    const Robustness& r = ranking.sets.front().robustness;
    REQUIRE(r.known);
    return r.high.*member - r.low.*member;
}

}  // namespace

TEST_CASE("Every uncertain input moves within its bounds and fills them") {
    Scenario s = small_room(0.6, 12);
    const Uncertainty& u = s.judgement.uncertainty;
    double least[4] = {1e9, 1e9, 1e9, 1e9}, most[4] = {-1e9, -1e9, -1e9, -1e9};
    for (int n = 0; n < 300; ++n) {
        const Draw draw = draw_inputs(s, n);
        const double moved[] = {
            std::log(draw.room.walls[2].branches[0].resistance /
                     s.acoustics.room.walls[2].branches[0].resistance) /
                std::log(1.5),
            draw.shift[1].y / u.sub,
            // the suspension, which moves fs by the share that is given
            std::log(draw.driver.vas / s.design.driver.vas) / (2 * std::log(1 + u.driver)),
            (draw.room.width - s.acoustics.room.width) / u.room};
        for (int k = 0; k < 4; ++k)
            least[k] = std::min(least[k], moved[k]), most[k] = std::max(most[k], moved[k]);
    }
    for (int k = 0; k < 4; ++k) {
        CHECK(least[k] >= -1.0001);
        CHECK(least[k] < -0.9);
        CHECK(most[k] <= 1.0001);
        CHECK(most[k] > 0.9);
    }
}

TEST_CASE("What is known by name alone is drawn by a factor of two, numbers by less") {
    Scenario s = small_room(0.6, 12);
    s.acoustics.room.wall_description[0] = "brick, plastered, with 2.1 m2 of window glass, double";
    s.acoustics.room.wall_description[1] = "9000 Pa s/m";
    s.acoustics.room.contents = constant_contents(6);
    double most[3] = {0, 0, 0};
    for (int n = 0; n < 300; ++n) {
        const Draw draw = draw_inputs(s, n);
        for (int w = 0; w < 2; ++w)
            most[w] = std::max(most[w], draw.room.walls[w].branches[0].resistance / 9000);
        most[2] = std::max(most[2], draw.room.contents.area / 6);
    }
    CHECK(most[0] == Approx(2).epsilon(0.05));
    CHECK(most[1] == Approx(1.5).epsilon(0.05));
    CHECK(most[2] == Approx(2).epsilon(0.05));
}

TEST_CASE("Walls, subs and driver that are drawn are heard") {
    const Scenario none = certain();
    CHECK(range_of(none, &Criteria::spread_db) == Approx(0).margin(1e-6));

    Scenario walls = certain();
    walls.judgement.uncertainty.wall = 2;
    CHECK(range_of(walls, &Criteria::spread_db) > 0.1);

    Scenario subs = certain();
    subs.judgement.uncertainty.sub = 0.1;
    CHECK(range_of(subs, &Criteria::spread_db) > 0.02);

    Scenario driver = certain();
    driver.judgement.uncertainty.driver = 0.1;
    CHECK(range_of(driver, &Criteria::level_db) > 0.1);
}

TEST_CASE("How far the draws have come is told, to the end") {
    const Scenario s = certain();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    Timings timings;
    SetRanking ranking = rank_sets(s, driver, box, 2, timings);
    std::vector<double> shares;
    double least_left = 0;
    judge_robustness(s, box.volume, {&ranking}, 3, timings, [&](double share, double left) {
        shares.push_back(share);
        least_left = std::min(least_left, left);
    });
    REQUIRE(shares.size() == 40);  // fewer than a hundred draws: each
    CHECK(std::ranges::is_sorted(shares));
    CHECK(shares.back() == 1);
    CHECK(least_left == 0);
}
