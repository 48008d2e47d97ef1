// Completion of a data sheet. The invented driver is defined by its mechanics alone (Mms, Cms, Rms,
// Bl, Re, Sd); the sheet values were computed from them with Python:
//   w0=1/sqrt(Mms*Cms); Qes=w0*Mms*Re/Bl**2; Qms=w0*Mms/Rms; Vas=1.2041*343.2**2*Sd**2*Cms
#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "woofer/driver.hpp"

using namespace boxroom;

namespace {

constexpr double Sd = 0.048, Re = 3.4, Bl = 17.0, Mms = 0.165, Rms = 3.9, Cms = 2.1e-4;

DriverSheet three_numbers() {
    DriverSheet sheet;
    sheet.fs = 27.03762325, sheet.qts = 0.3153047866, sheet.vas = 0.06862129098;
    return sheet;
}
constexpr double Qes = 0.3297717121, Qms = 7.187332187;

void check_whole(const DriverSheet& sheet) {
    const Driver d = complete_driver(sheet, Air{});
    REQUIRE(d.absolute());
    CHECK(d.warnings.empty());
    CHECK(*d.qes == Approx(Qes).epsilon(1e-6));
    CHECK(*d.qms == Approx(Qms).epsilon(1e-6));
    CHECK(*d.sd == Approx(Sd).epsilon(1e-6));
    CHECK(*d.re == Approx(Re).epsilon(1e-6));
    CHECK(*d.bl == Approx(Bl).epsilon(1e-6));
    CHECK(*d.mms == Approx(Mms).epsilon(1e-6));
    CHECK(*d.cms == Approx(Cms).epsilon(1e-6));
    CHECK(*d.rms == Approx(Rms).epsilon(1e-6));
}

}  // namespace

TEST_CASE("Every sufficient mix of parameters leads to the same driver") {
    DriverSheet s = three_numbers();
    SECTION("Sd, Re, Qes") {
        s.sd = Sd, s.re = Re, s.qes = Qes;
        check_whole(s);
    }
    SECTION("Sd, Re, Qms") {
        s.sd = Sd, s.re = Re, s.qms = Qms;
        check_whole(s);
    }
    SECTION("Sd, Re, Bl") {
        s.sd = Sd, s.re = Re, s.bl = Bl;
        check_whole(s);
    }
    SECTION("Sd, Re, Bl, Mms") {
        s.sd = Sd, s.re = Re, s.bl = Bl, s.mms = Mms;
        check_whole(s);
    }
    SECTION("Sd, Bl, Qes") {
        s.sd = Sd, s.bl = Bl, s.qes = Qes;
        check_whole(s);
    }
    SECTION("Mms, Re, Qms") {
        s.mms = Mms, s.re = Re, s.qms = Qms;
        check_whole(s);
    }
    SECTION("Bl, Re, Qes") {
        s.bl = Bl, s.re = Re, s.qes = Qes;
        check_whole(s);
    }
    SECTION("Bl, Re, Qms") {
        s.bl = Bl, s.re = Re, s.qms = Qms;
        check_whole(s);
    }
    SECTION("everything") {
        s.sd = Sd, s.re = Re, s.bl = Bl, s.mms = Mms, s.qes = Qes, s.qms = Qms;
        check_whole(s);
    }
}

TEST_CASE("Three numbers alone stay relative; the Qs fill each other") {
    CHECK_FALSE(complete_driver(three_numbers(), Air{}).absolute());
    DriverSheet s = three_numbers();
    s.qes = Qes;
    const Driver d = complete_driver(s, Air{});
    CHECK(*d.qms == Approx(Qms).epsilon(1e-5));
    CHECK_FALSE(d.absolute());
}

TEST_CASE("A contradiction above 5 % is named with both numbers, and the given value kept") {
    DriverSheet s = three_numbers();
    SECTION("Qts") {
        s.qts = 0.45, s.qes = 0.6, s.qms = 3.0;  // 0.6 x 3 / 3.6 = 0.5, 10 % off
        const Driver d = complete_driver(s, Air{});
        REQUIRE(d.warnings.size() == 1);
        CHECK(d.warnings[0] == "Qts 0.45 disagrees with Qes and Qms, which give 0.5 (10 %)");
        CHECK(d.qts == 0.45);
    }
    SECTION("Mms: the mass decides the compliance, so that fs stays") {
        s.sd = Sd, s.re = Re, s.qes = Qes, s.mms = 1.2 * Mms;
        const Driver d = complete_driver(s, Air{});
        REQUIRE(d.warnings.size() == 1);
        CHECK_THAT(d.warnings[0], Catch::StartsWith("Mms 0.198 disagrees with fs, Vas and Sd"));
        CHECK_THAT(d.warnings[0], Catch::Contains("0.165") && Catch::Contains("20 %"));
        CHECK(*d.mms == 1.2 * Mms);
        CHECK(*d.cms == Approx(Cms / 1.2).epsilon(1e-6));
    }
    SECTION("Qes") {
        s.sd = Sd, s.re = Re, s.bl = 0.9 * Bl, s.qes = Qes;
        const Driver d = complete_driver(s, Air{});
        REQUIRE(d.warnings.size() == 1);
        CHECK_THAT(d.warnings[0],
                   Catch::StartsWith("Qes 0.3298 disagrees with fs, Mms, Re and Bl"));
    }
    SECTION("4 % is within a data sheet's rounding") {
        s.sd = Sd, s.re = Re, s.qes = Qes, s.mms = 1.04 * Mms;
        CHECK(complete_driver(s, Air{}).warnings.empty());
    }
    SECTION("a motor too strong for Qts leaves the level relative, and says so") {
        s.sd = Sd, s.re = Re, s.bl = 1.3 * Bl;
        const Driver d = complete_driver(s, Air{});
        CHECK_FALSE(d.absolute());
        REQUIRE(d.warnings.size() == 1);
        CHECK_THAT(d.warnings[0], Catch::Contains("Qts") && Catch::Contains("relative"));
    }
}

TEST_CASE("Impossible sheets are refused, every fault at once") {
    DriverSheet s = three_numbers();
    SECTION("not positive") {
        s.fs = 0, s.vas = -1, s.sd = 0;
        try {
            complete_driver(s, Air{});
            FAIL("accepted");
        } catch (const Error& error) {
            CHECK(error.faults().size() == 3);
        }
    }
    SECTION("Qts above Qes") {
        s.qes = 0.3;
        CHECK_THROWS_AS(complete_driver(s, Air{}), Error);
    }
    SECTION("Qts above Qms") {
        s.qms = 0.3;
        CHECK_THROWS_AS(complete_driver(s, Air{}), Error);
    }
    SECTION("negative inductance") {
        s.le = -1e-3;
        CHECK_THROWS_AS(complete_driver(s, Air{}), Error);
    }
    SECTION("no inductance is fine") {
        s.le = 0.0;
        CHECK_NOTHROW(complete_driver(s, Air{}));
    }
}
