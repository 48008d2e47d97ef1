// The best set by itself, beside the list of all that are ranked.
#include <catch2/catch.hpp>

#include "tuning/set_ranking.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

TEST_CASE("the best set alone is the first of the list, with as many sets given settings") {
    const Scenario s = small_room(0.9, 12);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.02, s.design.filling);
    Timings timings;
    SetRanker ranker(s, driver, box, timings);
    for (const int subs : {1, 2}) {
        const RankedSet listed = ranker.rank(subs).sets.front(), alone = ranker.best(subs, 60);
        INFO(subs);
        CHECK(alone.rank == 1);
        CHECK(alone.positions == listed.positions);
        CHECK(alone.settings == listed.settings);
        CHECK(alone.facings == listed.facings);
        CHECK(alone.criteria.spread_db == listed.criteria.spread_db);
        CHECK(alone.criteria.ringing_s == listed.criteria.ringing_s);
        CHECK(alone.after.unevenness_db == listed.after.unevenness_db);
        CHECK(alone.equaliser.size() == listed.equaliser.size());
    }
}
