// What further boxes buy: the advice on made-up numbers, the whole on a small room.
#include <catch2/catch.hpp>
#include <cmath>

#include "tuning/subs_plan.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

SubsOption option(int subs, double spread, double loudest, std::vector<double> draws = {}) {
    SubsOption o;
    o.ranking.subs = subs;
    o.ranking.sets.emplace_back();
    RankedSet& set = o.ranking.sets.front();
    set.positions.resize(static_cast<std::size_t>(subs));
    set.criteria.spread_db = spread;
    set.robustness.spread_of_draw = std::move(draws);
    if (loudest > 0) o.loudest = {loudest, 30, "excursion"};
    return o;
}

RankedSet set_of(double spread, double unevenness, double level, double at) {
    RankedSet set;
    set.criteria.spread_db = spread, set.criteria.unevenness_db = unevenness;
    set.criteria.level_db = level, set.criteria.score = spread;
    set.positions = {{at, 0, 0}};
    return set;
}

Scenario planned_room() {
    Scenario s = small_room(0.6, 24);
    s.judgement.uncertainty.draws = 10;
    return s;
}

}  // namespace

TEST_CASE("a further box is advised where it lowers the spread") {
    SubsPlan plan;
    plan.options = {option(1, 3.1, 100, {3.0, 3.2, 3.4, 3.0}), option(2, 1.9, 105, {2, 2, 2, 2.9}),
                    option(3, 1.7, 108), option(4, 1.2, 110)};
    advise_number(plan, Target{});
    CHECK(plan.advice == 3);  // 0.7 dB below two
    CHECK(
        plan.how_many ==
        "A second box takes the spread from 3.1 to 1.9 dB (lower in every draw) and plays "
        "5 dB louder; a third brings only 0.2 dB of spread and plays 3 dB louder; a fourth takes "
        "the spread from 1.9 to 1.2 dB and plays 5 dB louder: build four boxes.");
    // A gain that a quarter of the draws turn round is not worth a box.
    plan.options = {option(1, 3.1, 0, {3.0, 3.2, 3.4, 3.0}), option(2, 1.9, 0, {2, 2, 2, 3.5})};
    advise_number(plan, Target{});
    CHECK(plan.advice == 0);
    CHECK(plan.how_many ==
          "A second box takes the spread from 3.1 to 1.9 dB (lower in 75 % of the draws), which is "
          "not sure enough: build one.");
    plan.options = {option(1, 2.0, 0), option(4, 1.9, 0)};
    advise_number(plan, Target{});
    CHECK(plan.advice == 0);
    CHECK(plan.how_many == "Four boxes bring only 0.1 dB of spread: build one.");
    plan.options = {option(1, 2.0, 0), option(2, 2.2, 0)};
    advise_number(plan, Target{});
    CHECK(plan.how_many == "A second box does not lower the spread: build one.");
    plan.options = {option(2, 2.0, 0)};
    advise_number(plan, Target{});
    CHECK(plan.how_many == "Two boxes leave 2.0 dB of spread.");
}

TEST_CASE("a wanted level can take more boxes than the spread does") {
    SubsPlan plan;
    plan.options = {option(1, 2.0, 100), option(2, 1.9, 106), option(3, 1.9, 109)};
    Target target;
    target.level = 105;
    advise_number(plan, target);
    CHECK(plan.advice == 1);
    CHECK(plan.how_many.find("the wanted 105 dB takes two boxes") != std::string::npos);
    target.level = 120;
    advise_number(plan, target);
    CHECK(plan.advice == 0);
    CHECK(plan.how_many.find("none of these plays the wanted 120 dB") != std::string::npos);
}

TEST_CASE("the common front holds what nothing beats, and one of what is alike") {
    SubsOption one = option(1, 3, 0), two = option(2, 2, 0);
    one.ranking.sets = {set_of(3, 4, 80, 1)};
    one.ranking.front = {set_of(4, 2, 80, 2), set_of(4.5, 2.5, 79, 3), set_of(3.1, 4.1, 80.3, 4)};
    two.ranking.sets = {set_of(2, 3, 85, 5)};
    two.ranking.front = {set_of(3.05, 4.05, 79.5, 6), set_of(5, 1, 86, 7)};
    const auto front = common_front({one, two});
    std::vector<double> at;
    for (const TradeOff& t : front) at.push_back(t.set.positions.front().x);
    // 3 is beaten by 2; 4 is as good as 1 to the eye; 6 is what one box does.
    CHECK(at == std::vector<double>{1, 2, 5, 7});
    CHECK(front[0].chosen);
    CHECK_FALSE(front[1].chosen);
}

TEST_CASE("how loud, equalised: the target curve that touches the ceiling") {
    // A ceiling that falls 6 dB an octave below 60 Hz and is flat above: down to 30 Hz a flat
    // target touches it there. Third-octave smoothing of a straight line in dB against ln f moves
    // it by 0.08 dB at this slope: 10 log10(sinh(x)/x), x = ln(10)/10 * 6/ln 2 * ln(2)/6 = 0.23.
    const auto f = logarithmic_grid({15, 200}, 48);
    const std::vector<Seat> seats{{"a", {}, 1}};
    Target target;
    target.band = {30, 120};
    const Judge judge(f, seats, target);
    Listening heard;
    heard.frequency = f;
    for (const double x : f) {
        heard.max_level_db.push_back(110 + std::min(0.0, 6 * std::log2(x / 60)));
        heard.limited_by.push_back(x < 60 ? "excursion" : "power");
    }
    const Loudest low = loudest_equalised(judge, heard, 30),
                  high = loudest_equalised(judge, heard, 80);
    CHECK(low.level_db == Approx(104).margin(0.1));
    CHECK(low.at_hz == Approx(30).epsilon(0.02));
    CHECK(low.limited_by == "excursion");
    CHECK(high.level_db == Approx(110).margin(0.01));
    CHECK(high.limited_by == "power");
    heard.max_level_db.clear();
    CHECK_FALSE(loudest_equalised(judge, heard, 30).known());
}

TEST_CASE("numbers of boxes in a small room") {
    Scenario s = planned_room();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, s.design.filling);
    Timings timings;
    const std::vector<double> volumes{0.010, 0.020, 0.040};
    const SubsPlan plan = make_subs_plan(s, driver, box, {1, 2}, volumes, timings);
    REQUIRE(plan.options.size() == 2);
    const SubsOption &one = plan.options[0], &two = plan.options[1];
    CHECK(two.chosen().criteria.spread_db < one.chosen().criteria.spread_db);
    for (const SubsOption& o : plan.options) {
        // The response kept is that of the chosen set, settings included.
        CHECK(o.heard.criteria.spread_db == Approx(o.chosen().criteria.spread_db).margin(1e-6));
        CHECK(o.heard.criteria.level_db == Approx(o.chosen().criteria.level_db).margin(1e-6));
        CHECK(o.heard.subs.size() == static_cast<std::size_t>(o.subs()));
        for (std::size_t f = 0; f < s.acoustics.frequency.size(); ++f)
            CHECK(o.equalised_db[f] ==
                  Approx(o.heard.seat_average_db[f] + o.equaliser_db[f]).margin(1e-9));
        CHECK(o.loudest.known());
        CHECK(o.smallest_volume == 0);  // no level is wanted
    }
    // What the plan says of one set is what the room says when it is solved for it alone.
    const Listening alone = listen(s, driver, box, placed(two.chosen()));
    CHECK(alone.criteria.spread_db == Approx(two.heard.criteria.spread_db).margin(0.005));
    CHECK(alone.seat_average_db[40] == Approx(two.heard.seat_average_db[40]).margin(0.01));
    // The smallest box for a level that the box at hand just reaches is no larger than it; a level
    // that none reaches has none.
    s.judgement.target.level = two.loudest.level_db - 0.01;
    const SubsPlan wanted =
        make_subs_plan(s, driver, box, {2}, {0.010, 0.020, 0.025, 0.040}, timings);
    CHECK(wanted.options[0].smallest_volume > 0);
    CHECK(wanted.options[0].smallest_volume <= 0.025);
    s.judgement.target.level = 160;
    CHECK(make_subs_plan(s, driver, box, {2}, volumes, timings).options[0].smallest_volume == 0);
}
