// The driver of a draw: parts that vary by themselves, a sheet that follows from them.
#include "tuning/draws.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "small_room.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"

using namespace boxroom;

namespace {

/// The same driver by what follows from its motor, too.
DriverSheet with_motor(DriverSheet sheet, const Air& air) {
    const Driver all = complete_driver(sheet, air);
    sheet.bl = all.bl, sheet.mms = all.mms;
    return sheet;
}

}  // namespace

// Small, JAES 20(5) 1972 (from memory): a suspension of another compliance moves fs, Qts and Vas,
// but leaves fs/Qts and fs^2 Vas as they were. Catches a wrong power of the compliance.
TEST_CASE("A softer suspension keeps fs/Qts and fs^2 Vas") {
    const Scenario s = small_room(0.5, 6);
    const DriverSheet was = s.design.driver;
    const DriverSheet is = drawn_driver(was, {1.3, 1, 1, 1, 1}, s.acoustics.air);
    CHECK(is.vas == Approx(1.3 * was.vas));
    CHECK(is.fs / is.qts == Approx(was.fs / was.qts));
    CHECK(is.fs * is.fs * is.vas == Approx(was.fs * was.fs * was.vas));
}

// By hand from Qes = 2 pi fs Mms Re/Bl^2: a magnet 4 % weaker gives Qes/0.96^2, 4 % more mass
// sqrt(1.04) and fs/sqrt(1.04), a coil 3 % higher 1.03.
TEST_CASE("Magnet, mass and coil each follow their law") {
    const Scenario s = small_room(0.5, 6);
    const DriverSheet was = with_motor(s.design.driver, s.acoustics.air);
    const auto drawn = [&](const DriverParts& parts) {
        return drawn_driver(was, parts, s.acoustics.air);
    };
    CHECK(*drawn({1, 1, 1, 0.96, 1}).qes == Approx(*was.qes / (0.96 * 0.96)));
    CHECK(*drawn({1, 1, 1, 0.96, 1}).bl == Approx(*was.bl * 0.96));
    CHECK(*drawn({1, 1.04, 1, 1, 1}).qes == Approx(*was.qes * std::sqrt(1.04)));
    CHECK(drawn({1, 1.04, 1, 1, 1}).fs == Approx(was.fs / std::sqrt(1.04)));
    CHECK(*drawn({1, 1, 1.03, 1, 1}).qes == Approx(*was.qes * 1.03));
    CHECK(*drawn({1, 1, 1, 1, 1.2}).qms == Approx(*was.qms / 1.2));
}

// Whichever numbers the sheet lists, the drawn driver is the same one and contradicts itself
// nowhere. With bl and mms given, fs, Q and Vas used to vary round a motor that stood still.
TEST_CASE("A draw does not depend on which numbers the sheet lists") {
    Scenario bare = small_room(0.5, 6), full = bare;
    full.design.driver = with_motor(bare.design.driver, bare.acoustics.air);
    double lightest = 1e9, heaviest = 0;
    for (int n = 0; n < 200; ++n) {
        const Driver a = complete_driver(draw_inputs(bare, n).driver, bare.acoustics.air);
        const Driver b = complete_driver(draw_inputs(full, n).driver, full.acoustics.air);
        CHECK(b.warnings.empty());
        for (const auto& [x, y] : {std::pair{a.bl, b.bl},
                                   {a.mms, b.mms},
                                   {a.cms, b.cms},
                                   {a.rms, b.rms},
                                   {a.re, b.re},
                                   {a.qes, b.qes}})
            CHECK(*x == Approx(*y));
        lightest = std::min(lightest, *b.mms), heaviest = std::max(heaviest, *b.mms);
        CHECK(b.fs / full.design.driver.fs < 1.1 * std::sqrt(std::sqrt(1.1)));
    }
    const double mass = *full.design.driver.mms;  // within 5 %, and used to the ends
    CHECK(lightest > mass / 1.05);
    CHECK(heaviest < mass * 1.05);
    CHECK(lightest < mass / 1.03);
    CHECK(heaviest > mass * 1.03);
}

TEST_CASE("The level is as uncertain with a motor on the sheet as without") {
    Scenario s = small_room(0.8, 8);
    s.judgement.uncertainty.draws = 60;
    Criteria low[2], high[2];
    for (const bool motor : {false, true}) {
        if (motor) s.design.driver = with_motor(s.design.driver, s.acoustics.air);
        const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
        const ClosedBox box = closed_box(driver, 0.025, 1);
        Timings timings;
        SetRanking ranking = rank_sets(s, driver, box, 1, timings);
        judge_robustness(s, box.volume, {&ranking}, 1, timings);
        low[motor] = ranking.sets[0].robustness.low, high[motor] = ranking.sets[0].robustness.high;
    }
    CHECK(low[1].level_db == Approx(low[0].level_db).margin(0.01));
    CHECK(high[1].level_db == Approx(high[0].level_db).margin(0.01));
    // Magnet, coil and mass within 5 % each, uniform: 0.24 dB RMS each, so 10 to 90 % are about 1
    // dB.
    CHECK(high[1].level_db - low[1].level_db > 0.6);
}
