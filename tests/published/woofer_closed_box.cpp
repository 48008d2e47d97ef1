// Small, "Closed-Box Loudspeaker Systems", JAES 20(10) 1972: the second-order high-pass.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "woofer/closed_box.hpp"

using namespace boxroom;

TEST_CASE("Closed box: f3, peak and overshoot by Qtc (Small 1972)") {
    const double qtc[] = {0.5, 0.577, 0.7071, 0.8, 0.9, 1.0, 1.1, 1.2, 1.5, 2.0};
    const double f3[] = {1.554, 1.272, 1.000, 0.897, 0.829, 0.786, 0.757, 0.736, 0.699, 0.674};
    const double peak[] = {0, 0, 0, 0.21, 0.69, 1.25, 1.83, 2.41, 4.03, 6.30};
    const double overshoot[] = {0, 0.4, 4.3, 8.1, 12.3, 16.3, 20.1, 23.7, 32.9, 44.4};
    for (int n = 0; n < 10; ++n) {
        ClosedBox box;
        box.fc = 40, box.qtc = qtc[n];
        INFO("Qtc " << qtc[n]);
        CHECK(box.f3() / box.fc == Approx(f3[n]).margin(0.0012));
        CHECK(box.peak_db() == Approx(peak[n]).margin(0.006));
        CHECK(100 * box.displacement_overshoot() == Approx(overshoot[n]).margin(0.06));
        double highest = 0;  // and the step response itself does so
        for (double t = 0; t < 0.2; t += 1e-5)
            highest = std::max(highest, box.displacement_step(t));
        CHECK(100 * (highest - 1) == Approx(overshoot[n]).margin(0.06));
    }
}

TEST_CASE("Reference efficiency: 9.61e-7 fs^3 Vas/Qes at c = 345 m/s (Small 1972)") {
    Air air;
    air.speed_of_sound = 345;
    Driver driver;
    driver.fs = 27, driver.qts = 0.4, driver.vas = 0.038, driver.qes = 0.5;
    const double expected = 9.61e-7 * 27 * 27 * 27 * 0.038 / 0.5;
    CHECK(*reference_efficiency(driver, air) == Approx(expected).epsilon(1e-3));
}

TEST_CASE("Passband at 1 m in half space: efficiency and motor agree") {
    const Air air;
    DriverSheet sheet{27, 0.45, 0.038, 0.52, {}, 5.6, {}, 0.034, {}, {}, {}, {}};
    const Driver driver = complete_driver(sheet, air);
    REQUIRE(driver.absolute());
    const ClosedBox box = closed_box_for_qtc(driver, 0.707, 1.0);
    const double f = 3000;  // far above fc
    const auto u = volume_velocity(driver, box, std::vector<double>{f}, air, std::sqrt(5.6));
    const double level = 20 * std::log10(f * air.density * std::abs(u[0]) / 20e-6);
    CHECK(level == Approx(*spl_1w_1m_db(driver, air)).margin(0.01));
}
