// Level of the source: half-space pressure at 1 m is j w rho U/(2 pi).
#include <catch2/catch.hpp>
#include <cmath>

#include "woofer/closed_box.hpp"

using namespace boxroom;

namespace {

double level_at_1m(const Driver& d, const ClosedBox& box, double f, double volts = 2.83) {
    const Air air;
    const auto u = volume_velocity(d, box, std::vector<double>{f}, air, volts);
    return 20 * std::log10(f * air.density * std::abs(u[0]) / 20e-6);
}

DriverSheet whole_sheet() {
    DriverSheet s;
    s.fs = 27, s.qts = 0.45, s.vas = 0.038, s.qes = 0.5, s.re = 5.6, s.sd = 0.034, s.le = 0.0;
    return s;
}

}  // namespace

TEST_CASE("Passband at 2.83 V: 112 dB + 10 log eta0 for V^2/Re watts (Small 1972)") {
    const Driver d = complete_driver(whole_sheet(), Air{});
    REQUIRE(d.absolute());
    const double eta0 = 9.78e-7 * 27 * 27 * 27 * 0.038 / 0.5;  // 4 pi^2/c^3 at 343.2 m/s, by hand
    const double expected = 112.1 + 10 * std::log10(eta0 * 2.83 * 2.83 / 5.6);
    for (double qtc : {0.5, 0.707, 1.0})
        CHECK(level_at_1m(d, closed_box_for_qtc(d, qtc, 1), 3000) == Approx(expected).margin(0.3));
    CHECK(*spl_1w_1m_db(d, Air{}) == Approx(112.1 + 10 * std::log10(eta0)).margin(0.1));
}

TEST_CASE("Inductance only takes away at the top; twice the voltage is 6.02 dB") {
    DriverSheet s = whole_sheet();
    const Driver d = complete_driver(s, Air{});
    s.le = 2e-3;
    const Driver coil = complete_driver(s, Air{});
    const ClosedBox box = closed_box_for_qtc(d, 0.707, 1);
    CHECK(level_at_1m(coil, box, 1000) < level_at_1m(d, box, 1000) - 5);  // w Le = 12.6 ohm
    CHECK(level_at_1m(coil, box, 1) == Approx(level_at_1m(d, box, 1)).margin(0.05));
    CHECK(level_at_1m(d, box, 50, 5.66) - level_at_1m(d, box, 50) == Approx(6.0206).margin(1e-4));
}

TEST_CASE("On a consistent sheet the absolute source has the shape of fc and Qtc") {
    const Air air;
    const Driver d = complete_driver(whole_sheet(), air);
    const ClosedBox box = closed_box(d, 0.022, 1.15);
    const std::vector<double> f{10, 30, 45, 60, 90, 200};
    const auto u = volume_velocity(d, box, f, air);
    DriverSheet three;
    three.fs = 27, three.qts = 0.45, three.vas = 0.038;
    const auto shape = volume_velocity(complete_driver(three, air), box, f, air);
    const auto ratio = u[0] / shape[0];
    CHECK(ratio.real() > 0);
    CHECK(std::abs(ratio.imag()) < 1e-9 * ratio.real());
    for (std::size_t i = 0; i < f.size(); ++i) {
        CHECK(std::abs(u[i] / shape[i] / ratio - 1.0) < 1e-9);
        // and three numbers alone put the passband at 0 dB
        CHECK(f[i] * air.density * std::abs(shape[i]) ==
              Approx(20e-6 * std::abs(box.response(f[i]))).epsilon(1e-12));
    }
}

TEST_CASE("Where Mms contradicts the sheet, the cone still resonates at fs in an endless box") {
    const Air air;
    DriverSheet s = whole_sheet();
    s.mms = 0.100;  // fs, Vas and Sd give 0.150
    const Driver d = complete_driver(s, air);
    CHECK_FALSE(d.warnings.empty());
    const ClosedBox endless = closed_box(d, 1e6, 1);
    const auto u = volume_velocity(d, endless, std::vector<double>{27}, air);
    CHECK(std::abs(u[0].imag()) < 1e-6 * u[0].real());  // at resonance U is in phase with the volts
    // In a real box the air's spring is rho c^2 Sd^2/Vab, whatever Vas says.
    const ClosedBox box = closed_box(d, 0.020, 1);
    const double spring = air.density * 343.2 * 343.2 * 0.034 * 0.034 / 0.020;
    const double fc = std::sqrt(27 * 27 + spring / 0.100 / (4 * 9.8696044));
    const auto at_fc = volume_velocity(d, box, std::vector<double>{fc}, air);
    CHECK(std::abs(at_fc[0].imag()) < 1e-6 * at_fc[0].real());
}
