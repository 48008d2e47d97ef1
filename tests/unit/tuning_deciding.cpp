// The decision is made of what the room gives back for it, as it is written.
#include "tuning/deciding.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/standing.hpp"
#include "solvers/solved_rooms.hpp"
#include "tuning/standing_set.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

Scenario drawn_room() {
    Scenario s = small_room(0.4, 24);
    s.judgement.uncertainty.draws = 10;
    return s;
}

Decided decided(const Scenario& s, DecisionAsk ask) {
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    Timings timings;
    return decide(s, driver, ask, timings);
}

double remainder_of(double value, double step) {
    return std::abs(value - step * std::round(value / step));
}

}  // namespace

TEST_CASE("Every number of a decision is that of the boxes as they are written") {
    const Scenario s = drawn_room();
    const Decided all = decided(s, {{1, 2}});
    const Decision& d = all.decision;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    std::vector<PlacedSub> subs;
    std::vector<BoxStanding> standing;
    for (const DecidedSub& sub : d.subs) {
        CHECK(remainder_of(sub.footprint.x, 0.01) < 1e-9);
        CHECK(remainder_of(sub.footprint.y, 0.01) < 1e-9);
        const double litres = sub.volume * 1e3;
        CHECK(remainder_of(litres, std::pow(10, std::floor(std::log10(litres)) - 2)) < 1e-9);
        standing.push_back(standing_at(s, sub.footprint, sub.facing, sub.volume));
        CHECK(standing.back().cone.x == sub.cone.x);
        CHECK(standing.back().cone.y == sub.cone.y);
        std::vector<BoxStanding> others(standing.begin(), standing.end() - 1);
        CHECK(may_stand(s, standing.back(), others));
        subs.push_back({sub.name, sub.cone, sub.dial});
    }
    const Listening heard =
        listen(s, driver, closed_box(driver, d.first().volume, s.design.filling), subs);
    CHECK(heard.criteria.spread_db == d.heard.criteria.spread_db);
    CHECK(heard.criteria.balance_db == d.heard.criteria.balance_db);
    CHECK(heard.seat_average_db == d.heard.seat_average_db);
    CHECK(equalised_criteria(s, heard, d.equaliser).unevenness_db == d.equalised.unevenness_db);
    CHECK(d.equalised.unevenness_db <= d.heard.criteria.unevenness_db);

    // The plan and the numbers of boxes say the same.
    const BoxOption& build = all.plan.boxes[all.plan.build];
    CHECK(build.volume == d.first().volume);
    CHECK(build.qtc == d.first().qtc);
    CHECK(all.plan.at_build.criteria.spread_db == d.heard.criteria.spread_db);
    const SubsOption& advised = all.subs.options[all.subs.advice];
    CHECK(advised.subs() == static_cast<int>(d.subs.size()));
    CHECK(advised.chosen().criteria.unevenness_db == d.heard.criteria.unevenness_db);
    CHECK(advised.loudest.level_db == d.loudest.level_db);
    REQUIRE(d.alternatives.size() == 2);
    for (const Alternative& other : d.alternatives) CHECK_FALSE(other.cost.empty());
}

TEST_CASE("Boxes of other sizes are judged with their cones where these then are, in any room") {
    Scenario s = small_room(0.6, 12);
    s.judgement.uncertainty.draws = 0;
    const bool step_in_a_corner = GENERATE(false, true);
    if (step_in_a_corner) {
        s.acoustics.room.plan.blocks = {
            {"step", {3.0, 3.8, 0}, {3.6, 4.4, 0.5}, {"", {{{9000}}}, ""}}};
        s.acoustics.solver.solved = std::make_shared<SolvedRooms>(RoomStore{}, places_of(s.seats),
                                                                  s.acoustics.frequency.back());
    }
    REQUIRE(s.acoustics.room.is_rectangle() == !step_in_a_corner);
    const Decided all = decided(s, {{1}});
    const DecidedSub& sub = all.decision.first();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    int others = 0;
    for (const BoxOption& option : all.plan.boxes) {
        StandingSet set{{standing_at(s, sub.footprint, sub.facing, sub.volume)},
                        {sub.volume},
                        {sub.dial},
                        false};
        if (!option.fits || !resize(s, option.volume, set)) continue;
        const Listening heard =
            listen(s, driver, closed_box(driver, option.volume, s.design.filling), subs_of(set));
        INFO(option.volume);
        CHECK(option.in_room_balance_db == Approx(heard.criteria.balance_db).margin(1e-4));
        others += std::abs(set.boxes.front().cone.y - sub.cone.y) +
                      std::abs(set.boxes.front().cone.x - sub.cone.x) >
                  0.01;
    }
    CHECK(others > 5);
}

TEST_CASE("What is asked of numbers, sizes and weights is kept to") {
    Scenario s = drawn_room();
    s.design.largest = 0.016;
    const Decided small = decided(s, {{1}});
    CHECK(small.decision.subs.size() == 1);
    CHECK(small.decision.first().volume <= 0.016 * 1.005);  // three digits
    CHECK(small.plan.boxes[small.plan.half_space_build].volume <= 0.016);
    s.design.largest.reset();
    s.design.equaliser_available = false;
    CHECK(decided(s, {{1}}).decision.equaliser.empty());
    s.design.largest = 1e-4;
    CHECK_THROWS(decided(s, {{1}}));
}

TEST_CASE("The endless floor and the room follow one rule") {
    const Scenario s = drawn_room();
    const Decided all = decided(s, {{1}});
    const double more = s.judgement.target.indifference + 1e-9;
    const auto& boxes = all.plan.boxes;
    const BoxOption &floor = boxes[all.plan.half_space_build],
                    &flattest = boxes[all.plan.half_space_best];
    CHECK(floor.half_space_balance_db <= flattest.half_space_balance_db + more);
    for (const BoxOption& box : boxes)
        if (box.buildable && box.qtc <= 1.0 && box.volume < floor.volume)
            CHECK(box.half_space_balance_db > flattest.half_space_balance_db + more - 2e-9);
    REQUIRE(all.plan.by_band.size() >= 2);
    CHECK(all.plan.by_band.front().band.low == s.judgement.target.band.low);
    CHECK(all.plan.by_band.front().half_space_qtc == Approx(floor.qtc));
    // The lower the band begins, the lower the Qtc that is flat in it (Small 1972: a high-pass).
    double last = 0;
    for (const BandFinding& one : all.plan.by_band)
        if (&one != &all.plan.by_band.front()) {
            CHECK(one.half_space_qtc >= last);
            last = one.half_space_qtc;
        }
}

TEST_CASE("A box stays where it is as good, and goes where it is better by more than that") {
    Scenario s = drawn_room();
    const Decided best = decided(s, {{1}});
    const SetRanking& ranking = best.subs.options.front().ranking;
    const Point there = ranking.sets[static_cast<std::size_t>(ranking.choice)].positions.front();
    const auto worse = std::ranges::find_if(ranking.sets, [&](const RankedSet& set) {
        const Point& at = set.positions.front();
        return std::hypot(at.x - there.x, at.y - there.y) > 0.5 && set.criteria.score > 0;
    });
    REQUIRE(worse != ranking.sets.end());
    const double by = worse->criteria.score -
                      ranking.sets[static_cast<std::size_t>(ranking.choice)].criteria.score;
    REQUIRE(by > 0);
    DecisionAsk ask{{1}};
    ask.stay = worse->positions.front(), ask.one_place = 0.01;
    const auto off = [](const Decided& d, const Point& p) {
        return std::hypot(d.decision.first().cone.x - p.x, d.decision.first().cone.y - p.y);
    };
    s.judgement.target.indifference = 1.01 * by;
    CHECK(off(decided(s, ask), *ask.stay) < 0.1);  // cones follow the size of the box
    s.judgement.target.indifference = 0.99 * by;
    CHECK(off(decided(s, ask), *ask.stay) > 0.3);
}
