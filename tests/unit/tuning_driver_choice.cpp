// Several drivers: the rule for boxes chooses, and one more never makes the choice worse.
#include "tuning/driver_choice.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "placement/decision.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

TEST_CASE("Of several drivers the one with the smallest box that is as flat") {
    Scenario s = small_room(0.8, 12);
    s.design.sweep = QtcSweep{0.5, 1.0, 6};
    DriverSheet large = s.design.driver;  // the same cone with a softer suspension: larger boxes
    large.vas *= 2, large.fs /= std::sqrt(2.0), large.qts /= std::sqrt(2.0);
    large.qes = *large.qes / std::sqrt(2.0), large.qms = *large.qms / std::sqrt(2.0);
    DriverSheet hopeless = s.design.driver;
    hopeless.qts = 1.15, hopeless.qes = 1.3, hopeless.qms = 10;
    s.design.drivers = {{"soft", large, 100.0}, {"stiff", s.design.driver, {}}};
    Timings timings;
    const DriverTable two = compare_drivers(s, timings);
    REQUIRE(two.rows.size() == 2);
    REQUIRE(two.chosen >= 0);
    CHECK(two.rows[0].price == 100.0);
    CHECK_FALSE(two.why.empty());
    s.design.drivers.push_back({"hopeless", hopeless, {}});
    const DriverTable three = compare_drivers(s, timings);
    CHECK(three.chosen == two.chosen);
    CHECK_FALSE(three.rows[2].trouble.empty());  // no box of the sweep lowers a Q
    const auto chance = [](const DriverRow& row) {
        return BoxChance{row.box.volume, row.box.qtc, row.box.in_room_balance_db,
                         row.box.loudest_db};
    };
    const BoxNeed need{0.5, {}, false, true};
    for (const DriverRow& row : two.rows)
        CHECK_FALSE(worse(chance(two.rows[two.chosen]), chance(row), need));
    // One driver, or one that the file has chosen: nothing to compare.
    s.design.name = "soft";
    CHECK(compare_drivers(s, timings).rows.empty());
    s.design.drivers.clear(), s.design.name.clear();
    CHECK(compare_drivers(s, timings).rows.empty());
}
