// The table that every output loops over: each member of Criteria has one row, and no two rows
// share a member or a name. Catches a criterion that no output shows, and a row that was copied.
#include "results/criterion.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <string>

using namespace boxroom;

TEST_CASE("Every criterion stands in the table, once") {
    REQUIRE(criterion_table.size() == sizeof(Criteria) / sizeof(double));
    Criteria marked{};
    std::set<std::string> names, keys, labels;
    for (const Criterion& row : criterion_table) {
        CHECK_FALSE(marked.*row.member == 1);
        marked.*row.member = 1;
        names.insert(row.name), keys.insert(row.key), labels.insert(row.label);
        const std::string name = row.name, key = row.key, unit = row.unit;
        CHECK(key == name + (unit == "dB"   ? "_db"
                             : unit == "Hz" ? "_hz"
                             : unit == "s"  ? "_s"
                                            : ""));
    }
    CHECK(names.size() == criterion_table.size());
    CHECK(keys.size() == criterion_table.size());
    CHECK(labels.size() == criterion_table.size());
}

TEST_CASE("A criterion is found by its member") {
    CHECK(criterion(&Criteria::reach_hz).unit == std::string("Hz"));
    CHECK(criterion(&Criteria::score).name == std::string("score"));
}
