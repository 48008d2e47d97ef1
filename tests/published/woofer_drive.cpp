// The limits of drive against the textbook's closed forms.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "woofer/drive.hpp"

using namespace boxroom;
using std::numbers::pi;

namespace {

const Air air;

/// An invented driver whose numbers agree with each other.
DriverSheet sheet() {
    DriverSheet s;
    s.fs = 27, s.qts = 0.45, s.vas = 0.038, s.qes = 0.495, s.qms = 4.95;
    s.re = 3.4, s.sd = 0.033, s.xmax = 0.011, s.power = 250;
    return s;
}

DriveCeiling ceiling(const DriverSheet& s, const Amplifier& amplifier,
                     const std::vector<double>& frequency) {
    const Driver driver = complete_driver(s, air);
    return drive_ceiling(driver, closed_box(driver, 0.025, 1), amplifier, frequency, air);
}

}  // namespace

TEST_CASE("excursion: p = rho (2 pi f)^2 Sd x/(2 pi r) on an endless floor") {
    // Beranek, Acoustics, ch. 4 (piston in a baffle, low frequency). By hand for 20 Hz, 330 cm2,
    // 11 mm peak, 1 m: 1.2041 x 15791.4 x 0.033 x 0.0077782/6.28319 = 0.77677 Pa = 91.78 dB.
    DriverSheet s = sheet();
    s.power.reset();
    const auto top = ceiling(s, {}, {20, 40});
    REQUIRE(top.known());
    CHECK(top.limited_by[0] == DriveLimit::excursion);
    const auto half_space_db = [&](int n, double f) {
        return 20 * std::log10(air.density * f * top.volume_velocity[n] / 20e-6);
    };
    CHECK(half_space_db(0, 20) == Approx(91.78).margin(0.01));
    CHECK(half_space_db(1, 40) - half_space_db(0, 20) == Approx(12.04).margin(0.01));  // 12 dB/oct
}

TEST_CASE("excursion: acoustic power (4 pi^3 rho/c) f^4 Vd^2") {
    // Small, Vented-Box Loudspeaker Systems II, JAES 21(6) 1973, displacement limit (from memory);
    // Vd = Sd Xmax is a peak volume, and 4 pi^3 rho/c = 0.42.
    DriverSheet s = sheet();
    s.power.reset();
    const double f = 31, vd = 0.033 * 0.011;
    const double u = ceiling(s, {}, {f}).volume_velocity[0];
    const double w = 2 * pi * f;
    const double radiated = air.density * w * w * u * u / (2 * pi * air.speed_of_sound);
    CHECK(radiated ==
          Approx(4 * pi * pi * pi * air.density / air.speed_of_sound * std::pow(f, 4) * vd * vd));
}

TEST_CASE("impedance at resonance is Re (1 + Qms/Qes) and real") {
    // Small, Direct-Radiator Loudspeaker System Analysis, JAES 20(5) 1972: Res = Re Qms/Qes.
    const Driver driver = complete_driver(sheet(), air);
    const ClosedBox box = closed_box(driver, 0.025, 1.15);
    const auto z = input_impedance(driver, box, box.fc, air);
    // In the box Qmc/Qec = Qms/Qes; the mass sets both.
    CHECK(z.real() == Approx(3.4 * (1 + 4.95 / 0.495)).epsilon(1e-3));
    CHECK(std::abs(z.imag()) < 0.02 * z.real());
    CHECK(std::abs(input_impedance(driver, box, 0.01, air)) == Approx(3.4).epsilon(1e-3));
    DriverSheet bare;
    bare.fs = 27, bare.qts = 0.45, bare.vas = 0.038;
    CHECK_THROWS_AS(input_impedance(complete_driver(bare, air), box, 30, air), Error);
}

TEST_CASE("voltage, current and heat are met exactly where they limit") {
    const std::vector<double> f{30, 60, 120, 200};
    const Driver driver = complete_driver(sheet(), air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    const auto per_volt = volume_velocity(driver, box, f, air, 1);

    DriverSheet s = sheet();
    s.xmax.reset(), s.power.reset();
    // 100 W into 2 ohm: 14.14 V, 7.07 A; the driver never falls below 3.4 ohm, so volts run out.
    const auto volts = ceiling(s, {100, 2}, f);
    // 100 W into 4 ohm: 20 V, 5 A; a coil of 3.4 ohm is as low as 4 ohm may be. Below 4 ohm amperes
    // run out, near resonance volts.
    const auto amperes = ceiling(s, {100, 4}, f);
    s.power = 250;
    const auto heat = ceiling(s, {}, f);
    for (std::size_t n = 0; n < f.size(); ++n) {
        const double z = std::abs(input_impedance(driver, box, f[n], air));
        CHECK(volts.limited_by[n] == DriveLimit::voltage);
        CHECK(volts.volume_velocity[n] / std::abs(per_volt[n]) == Approx(std::sqrt(200.0)));
        CHECK((amperes.limited_by[n] == DriveLimit::current) == (z < 4));
        CHECK(amperes.volume_velocity[n] / std::abs(per_volt[n]) == Approx(std::min(20.0, 5 * z)));
        CHECK(heat.limited_by[n] == DriveLimit::power);
        const double current = heat.volume_velocity[n] / std::abs(per_volt[n]) / z;
        CHECK(current * current * 3.4 == Approx(250));
    }
}

// An amplifier is a source of voltage: 500 W into 8 ohm are sqrt(500 8) = 63.2 V, and that 7.9 A
// were drawn there does not say that 18.6 A cannot be drawn by 3.4 ohm. Taken as a limit it ended
// the level 20 log10(8/3.4) = 7.4 dB early without a word.
TEST_CASE("a rating into a higher load than the coil says the volts, not the amperes") {
    DriverSheet s = sheet();
    s.xmax.reset(), s.power.reset();
    const std::vector<double> f{30, 60, 120, 200};
    const Driver driver = complete_driver(s, air);
    const auto per_volt = volume_velocity(driver, closed_box(driver, 0.025, 1), f, air, 1);
    const auto top = ceiling(s, {500, 8}, f);
    for (std::size_t n = 0; n < f.size(); ++n) {
        CHECK(top.limited_by[n] == DriveLimit::voltage);
        CHECK(top.volume_velocity[n] / std::abs(per_volt[n]) == Approx(63.246).epsilon(1e-4));
    }
    const Driver whole = complete_driver(sheet(), air);
    const auto said = unknown_limits(whole, {500, 8});
    REQUIRE(said.size() == 1);
    CHECK(said[0].find("8.0 ohm") != std::string::npos);
    CHECK(said[0].find("3.4 ohm") != std::string::npos);
    CHECK(said[0].find("give power and load") != std::string::npos);
    CHECK(unknown_limits(whole, {500, 4}).empty());
    CHECK(unknown_limits(whole, {500, 2}).empty());
    CHECK(unknown_limits(whole, {500, 1.5}).size() == 1);  // the other way: volts may be more
}

TEST_CASE("excursion needs no motor; nothing known is nothing said") {
    DriverSheet s;
    s.fs = 27, s.qts = 0.45, s.vas = 0.038, s.sd = 0.033, s.xmax = 0.011;
    CHECK(ceiling(s, {300, 4}, {20}).limited_by[0] == DriveLimit::excursion);
    CHECK(unknown_limits(complete_driver(s, air), {300, 4}).size() == 1);
    s.xmax.reset();
    CHECK_FALSE(ceiling(s, {300, 4}, {20}).known());
    CHECK(unknown_limits(complete_driver(sheet(), air), {250, 4}).empty());
}
