// Sets whose boxes differ in size ([search] volumes), against listening to every set one by one.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/listening.hpp"
#include "placement/spots.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

Scenario room_for_mixed_boxes() {
    Scenario s = small_room(0.9, 12);
    s.wanted.set_volumes = {0.012, 0.03};
    return s;
}

}  // namespace

TEST_CASE("sets of mixed boxes: the best of all is found, and is what listen hears") {
    const Scenario s = room_for_mixed_boxes();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.02, s.design.filling);
    Timings timings;
    SetRanker ranker(s, driver, box, timings);
    const SetRanking ranking = ranker.rank(2);
    CHECK(ranking.proven);

    // Each set as subs placed by hand, their boxes named one by one.
    for (std::size_t n = 0; n < std::min<std::size_t>(ranking.sets.size(), 8); ++n) {
        const RankedSet& set = ranking.sets[n];
        REQUIRE(set.volumes.size() == 2);
        const Listening heard = listen(s, driver, box, placed(set));
        CHECK(heard.criteria.spread_db == Approx(set.criteria.spread_db).margin(0.01));
        CHECK(heard.criteria.unevenness_db == Approx(set.criteria.unevenness_db).margin(0.01));
        CHECK(heard.criteria.level_db == Approx(set.criteria.level_db).margin(0.01));
        const Listening again = ranker.listen(set);
        for (std::size_t f = 0; f < s.acoustics.frequency.size(); ++f)
            CHECK(again.max_level_db[f] == Approx(heard.max_level_db[f]).margin(0.02));
    }

    // Every pair of candidates, all alike, by listening to it: nothing scores better.
    struct Candidate {
        PlacedSub sub;
        Point at;
        Sides sides;
    };
    std::vector<Candidate> all;
    for (const double volume : s.wanted.set_volumes) {
        const Sides outer = enclosure(volume, s.design.enclosure);
        const SpotGrid grid(s, outer);
        for (int spot = 0; spot < grid.size(); ++spot)
            if (grid.fits(spot, outer))
                all.push_back({{"", grid.centre(spot, outer), 0, 0, 1, volume},
                               grid.footprint(spot, outer),
                               turned(outer, grid.facing(spot))});
    }
    const auto value = [&](const Criteria& c) {
        const ScoreWeights& w = s.judgement.weights;
        return w.spread * c.spread_db + w.unevenness * c.unevenness_db + w.balance * c.balance_db -
               w.level * c.level_db;
    };
    double best = 1e9, found = 1e9;
    int mixed = 0;
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t k = i + 1; k < all.size(); ++k) {
            const auto &a = all[i], &b = all[k];
            if (std::abs(a.at.x - b.at.x) < (a.sides.width + b.sides.width) / 2 - 1e-6 &&
                std::abs(a.at.y - b.at.y) < (a.sides.depth + b.sides.depth) / 2 - 1e-6)
                continue;
            best = std::min(best, value(listen(s, driver, box, {a.sub, b.sub}).criteria));
            mixed += a.sub.volume != b.sub.volume;
        }
    REQUIRE(mixed > 20);
    for (const RankedSet& set : ranking.sets) found = std::min(found, value(set.plain));
    CHECK(found == Approx(best).margin(0.02));
}

TEST_CASE("sets of mixed boxes: draws without any uncertainty give the nominal criteria") {
    Scenario s = room_for_mixed_boxes();
    s.judgement.uncertainty = {};
    s.judgement.uncertainty.draws = 3;
    s.judgement.uncertainty.seat = s.judgement.uncertainty.sub = s.judgement.uncertainty.room =
        s.judgement.uncertainty.driver = 0;
    s.judgement.uncertainty.wall = 1;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.02, s.design.filling);
    Timings timings;
    SetRanking ranking = rank_sets(s, driver, box, 2, timings);
    judge_robustness(s, box.volume, {&ranking}, 4, timings);
    for (int n = 0; n < 4; ++n) {
        const RankedSet& set = ranking.sets[n];
        CHECK(set.robustness.low.spread_db == Approx(set.criteria.spread_db).margin(0.02));
        CHECK(set.robustness.high.level_db == Approx(set.criteria.level_db).margin(0.02));
    }
}

TEST_CASE("a sub in a box of its own plays what that box gives") {
    Scenario s = room_for_mixed_boxes();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const std::vector<PlacedSub> own{{"a", {0.4, 0.4, 0.2}, 0, 0, 1, 0.012}},
        common{{"a", {0.4, 0.4, 0.2}}};
    const auto one = listen(s, driver, closed_box(driver, 0.03, s.design.filling), own);
    const auto other = listen(s, driver, closed_box(driver, 0.012, s.design.filling), common);
    CHECK(one.level_db == other.level_db);
    CHECK(one.max_level_db == other.max_level_db);
    CHECK(one.limited_by == other.limited_by);
}
