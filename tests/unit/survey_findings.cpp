// What a table says, worked out by hand for few rooms; shares against SciPy.
#include <catch2/catch.hpp>
#include <cmath>

#include "survey/findings.hpp"
#include "survey/survey_rows.hpp"
#include "survey/survey_run.hpp"

using namespace boxroom;

namespace {

/// A table with every column of a survey, 0 in all rooms but for what is set.
SurveyTable table_of(std::size_t rooms) {
    Survey survey;
    survey.rooms = static_cast<long long>(rooms);
    survey.houses.resize(2);
    survey.houses[0].name = "stone", survey.houses[1].name = "timber";
    SurveyTable table = empty_table(survey);
    for (SurveyColumn& column : table.columns) {
        column.value.assign(rooms, column.name == "planned" ? 1.0 : 0.0);
        if (column.name == "room")
            for (std::size_t n = 0; n < rooms; ++n) column.value[n] = static_cast<double>(n);
    }
    return table;
}

void set(SurveyTable& table, const std::string& name, const std::vector<double>& values) {
    bool there = false;
    for (SurveyColumn& column : table.columns)
        if (column.name == name) column.value = values, there = true;
    REQUIRE(there);
}

}  // namespace

TEST_CASE("Quantiles are NumPy's (numpy.quantile of 1, 2, 4, 8, 16), without what is not known") {
    const Quantiles q = quantiles_of({8, 1, std::nan(""), 16, 2, 4});
    CHECK(q.low == Approx(1.4));
    CHECK(q.middle == Approx(4));
    CHECK(q.high == Approx(12.8));
    CHECK(q.rooms == 5);
    CHECK(quantiles_of({}).rooms == 0);
}

TEST_CASE(
    "Shares have Wilson's interval (scipy.stats.binomtest(7, 40).proportion_ci(method='wilson'))") {
    const Share s = share_of(7, 40);
    CHECK(s.share == Approx(0.175));
    CHECK(s.low == Approx(0.0874541375).epsilon(1e-6));
    CHECK(s.high == Approx(0.3194999033).epsilon(1e-6));
    CHECK(share_of(0, 0).rooms == 0);
}

TEST_CASE("Findings count what they say, and leave out rooms without a box") {
    SurveyTable table = table_of(5);
    set(table, "planned", {1, 1, 1, 1, 0});
    set(table, "house", {0, 0, 1, 1, 1});
    set(table, "best_qtc", {0.5, 0.9, 1.1, 0.7, std::nan("")});
    set(table, "best_balance", {1, 1, 1, 1, std::nan("")});
    set(table, "textbook_balance", {1.4, 1.6, 2, 1.5, std::nan("")});
    set(table, "largest_equalised_balance", {1, 1, 1, 1, std::nan("")});
    set(table, "textbook_equalised_balance", {1, 1.2, 1, 1, std::nan("")});
    set(table, "smallest_equalised_balance", {1.4, 0.6, 1, 1.5, std::nan("")});
    set(table, "build_qtc", {0.9, 0.7, 0.71, 0.8, std::nan("")});
    set(table, "half_space_build_qtc", {0.7, 0.75, 0.7, 0.7, std::nan("")});
    set(table, "build_volume", {1, 2, 3, 4, std::nan("")});
    set(table, "textbook_volume", {2, 2, 2, 2, std::nan("")});
    set(table, "one_sub_in_corners", {1, 0, 0, 0, std::nan("")});
    set(table, "one_sub_spread", {3, 3, 3, 3, std::nan("")});
    set(table, "two_subs_spread", {2, 2.4, 2.6, std::nan(""), std::nan("")});
    set(table, "two_subs_in_corners", {2, 1, 0, std::nan(""), std::nan("")});
    const SurveyFindings f = findings_of(table);
    CHECK(f.rooms == 5);
    CHECK(f.planned == 4);
    CHECK(f.all.best_qtc.middle == Approx(0.8));
    CHECK(f.all.textbook_good.share == Approx(0.5));  // 0.4 and 0.5 dB off; not 0.6 and 1
    CHECK(f.groups.at(0).textbook_good.share == Approx(0.5));
    CHECK(f.groups.at(1).best_qtc.rooms == 2);
    CHECK(f.size_does_not_matter.share == Approx(0.75));  // not the one of 0.6
    CHECK(f.smaller_in_room.share == Approx(0.5));        // not the one of a hundredth
    CHECK(f.volume_ratio.middle == Approx(1.25));
    CHECK(f.corner_wins.share == Approx(0.25));
    CHECK(f.subs[1].spread.rooms == 3);
    CHECK(f.subs[1].gain_is_heard.share == Approx(2.0 / 3));
    CHECK(f.subs[1].in_corners.share == Approx(0.5));  // three of six
    CHECK(f.subs[1].in_corners.rooms == 3);            // and no more chances than rooms
    const auto at = [&](double qtc) {
        std::size_t n = 0;
        while (f.qtc[n] < qtc - 1e-9) ++n;
        return f.best_qtc.front().share[n];
    };
    CHECK(at(0.49) == Approx(0));
    CHECK(at(0.7) == Approx(0.5));
    CHECK(at(1.2) == Approx(1));
}

TEST_CASE("What is missing of a part is every so many-th room that has no row") {
    SurveyTable table = table_of(0);
    table.rooms = 11, table.part = 2, table.parts = 3;
    set(table, "room", {4, 10});
    CHECK(missing_rooms(table) == std::vector<long long>{1, 7});
    CHECK(rooms_of_part(11, 1, 3) == 4);
    CHECK(rooms_of_part(11, 3, 3) == 3);
}

TEST_CASE("Rows come in any order and stand by their number") {
    SurveyTable table = table_of(0);
    const auto row = [&](double number) {
        SurveyRow out(table.columns.size(), 10 * number);
        out.front() = number;
        return out;
    };
    add_rows(table, {row(5), row(1)});
    add_rows(table, {row(3)});
    CHECK(table["room"] == std::vector<double>{1, 3, 5});
    CHECK(table["width"] == std::vector<double>{10, 30, 50});
}
