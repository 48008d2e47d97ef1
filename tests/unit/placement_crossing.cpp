// What a main loudspeaker puts into the room, against a sub in the same place and against the
// definition of sensitivity.
#include "placement/crossing.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "small_room.hpp"

using namespace boxroom;

// The starter file says of a main without sensitivity: as loud as a sub. Ten times above fc the
// high-pass H = s^2/(s^2 + s/Qtc + 1) of the sub's box is (Small 1972)
//   |H|^2 = 1/(1 + (1/Qtc^2 - 2)/x^2 + 1/x^4), x = f/fc: within 0.05 dB of one for Qtc 0.7,
// and what goes into the room at the same place must be the same flow. Catches free field taken for
// half space: 6.02 dB.
TEST_CASE("A main loudspeaker without a sensitivity is as loud as a sub") {
    Scenario s = small_room(0.5, 6);
    s.acoustics.frequency = {600, 800};
    DriverSheet& sheet = s.design.driver;
    for (const bool absolute : {true, false}) {
        if (!absolute) sheet.sd = sheet.re = {};
        const Driver driver = complete_driver(sheet, s.acoustics.air);
        REQUIRE(driver.absolute() == absolute);
        const ClosedBox box = closed_box_for_qtc(driver, 0.7, 1);
        const auto sub = volume_velocity(driver, box, s.acoustics.frequency, s.acoustics.air);
        const auto main = main_velocity({"main", {1, 1, 1}}, s, driver);
        for (std::size_t f = 0; f < 2; ++f)
            CHECK(db_of_amplitude(std::abs(main[f] / sub[f])) == Approx(0).margin(0.05));
    }
}

// By definition: so many dB at 1 m in free field, p = j w rho U/(4 pi r) (Kuttruff, Room Acoustics,
// ch. 1), turned up and round by its dial.
TEST_CASE("A main loudspeaker's sensitivity is its level at 1 m in free field") {
    Scenario s = small_room(0.5, 6);
    s.acoustics.frequency = {50, 120};
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    MainSpeaker speaker{"main", {1, 1, 1}, {-3, 0, -1}};
    speaker.sensitivity = 88;
    const auto u = main_velocity(speaker, s, driver);
    for (std::size_t f = 0; f < 2; ++f) {
        const double w = 2 * std::numbers::pi * s.acoustics.frequency[f];
        const std::complex<double> p = std::complex<double>{0, 1} * w * s.acoustics.air.density *
                                       u[f] / (4 * std::numbers::pi);
        CHECK(level_db(std::norm(p)) == Approx(85));
        CHECK(p.real() < 0);
        CHECK(p.imag() == Approx(0).margin(1e-9));
    }
}
