// The closed box: Small's relations by hand, impossible boxes, and the time responses where the
// damping cases meet.
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "woofer/closed_box.hpp"

using namespace boxroom;

namespace {

Driver three_numbers() {
    DriverSheet sheet;
    sheet.fs = 27, sheet.qts = 0.45, sheet.vas = 0.038;
    return complete_driver(sheet, Air{});
}

ClosedBox box_with(double fc, double qtc) {
    ClosedBox box;
    box.fc = fc, box.qtc = qtc;
    return box;
}

}  // namespace

TEST_CASE("fc/fs = Qtc/Qts = sqrt(1 + Vas/Vab), with the filling in Vab (by hand)") {
    // Vas/Vab = 3: everything doubles. 38 L / 3 = 12.667 L apparent = 10.133 L x 1.25.
    const ClosedBox box = closed_box(three_numbers(), 0.038 / 3 / 1.25, 1.25);
    CHECK(box.alpha == Approx(3));
    CHECK(box.fc == Approx(54));
    CHECK(box.qtc == Approx(0.9));
    CHECK(box.apparent_volume == Approx(0.038 / 3));
    const ClosedBox back = closed_box_for_qtc(three_numbers(), 0.9, 1.25);
    CHECK(back.volume == Approx(box.volume));
    CHECK(back.qtc == Approx(0.9));
}

TEST_CASE("Impossible boxes are refused with a reason") {
    const Driver d = three_numbers();
    for (double qtc : {0.3, 0.45, -1.0, std::nan(""), HUGE_VAL}) {
        INFO("Qtc " << qtc);
        CHECK_THROWS_AS(closed_box_for_qtc(d, qtc, 1), Error);
    }
    try {
        closed_box_for_qtc(d, 0.3, 1);
    } catch (const Error& error) {
        REQUIRE(error.faults().size() == 1);
        CHECK(error.faults()[0].where == "box");
        CHECK_THAT(error.faults()[0].what, Catch::Contains("0.3") && Catch::Contains("0.45"));
        CHECK_FALSE(error.faults()[0].mend.empty());
    }
    CHECK_THROWS_AS(closed_box(d, 0, 1), Error);
    CHECK_THROWS_AS(closed_box(d, 0.02, 0.99), Error);
    CHECK_THROWS_AS(closed_box(d, 0.02, 1.41), Error);
    try {
        closed_box_for_qtc(d, 0.7, 0);
        FAIL("accepted");
    } catch (const Error& error) {
        CHECK_THAT(error.what(), Catch::Contains("filling"));
    }
}

TEST_CASE("f3 and the peak are where the response says they are") {
    for (double qtc : {0.3, 0.5, 0.7071, 0.9, 1.2, 2.0}) {
        const ClosedBox box = box_with(40, qtc);
        INFO("Qtc " << qtc);
        CHECK(std::norm(box.response(box.f3())) == Approx(0.5).epsilon(1e-12));
        double top = 0;
        for (double f = 20; f < 4000; f *= 1.0002) top = std::max(top, std::abs(box.response(f)));
        CHECK(box.peak_db() == Approx(std::max(0.0, 20 * std::log10(top))).margin(1e-4));
    }
}

TEST_CASE("Group delay is the slope of the phase") {
    const ClosedBox box = box_with(40, 0.9);
    for (double f : {5.0, 20.0, 40.0, 100.0}) {
        const double h = 1e-3;
        const double turn = std::arg(box.response(f + h) / box.response(f - h));
        CHECK(box.group_delay(f) == Approx(-turn / (2 * h) / (2 * 3.14159265358979)).epsilon(1e-6));
    }
}

TEST_CASE("The damping cases join smoothly at Qtc = 0.5") {
    for (double t : {0.0, 1e-4, 2e-3, 1e-2, 5e-2})
        for (double away : {1e-4, 1e-6, 1e-9, 1e-12}) {
            const ClosedBox below = box_with(40, 0.5 - away), at = box_with(40, 0.5),
                            above = box_with(40, 0.5 + away);
            INFO("t " << t << ", away " << away);
            const double tolerance = 3 * away + 1e-12;
            CHECK(below.step_response(t) == Approx(at.step_response(t)).margin(tolerance));
            CHECK(above.step_response(t) == Approx(at.step_response(t)).margin(tolerance));
            CHECK(above.displacement_step(t) ==
                  Approx(below.displacement_step(t)).margin(2 * tolerance));
            CHECK(above.impulse_response(t) ==
                  Approx(below.impulse_response(t)).margin(4000 * tolerance));
        }
}

TEST_CASE("A well damped box does not overflow long after the step") {
    const ClosedBox box = box_with(60, 0.2);  // cosh alone would pass 1e308 within the second
    for (double t : {0.5, 2.0, 50.0}) {
        CHECK(box.step_response(t) == Approx(0).margin(1e-6));
        CHECK(box.impulse_response(t) == Approx(0).margin(1e-6));
        CHECK(box.displacement_step(t) == Approx(1).margin(1e-6));
    }
    CHECK(box.step_response(-1) == 0);
    CHECK(box.displacement_step(-1) == 0);
}

TEST_CASE("The step response falls at the rate the impulse response gives") {
    for (double qtc : {0.35, 0.5, 0.9}) {
        const ClosedBox box = box_with(40, qtc);
        for (double t : {1e-3, 5e-3, 2e-2}) {
            const double h = 1e-7;
            CHECK((box.step_response(t + h) - box.step_response(t - h)) / (2 * h) ==
                  Approx(box.impulse_response(t)).epsilon(1e-6).margin(1e-5));
        }
    }
}
