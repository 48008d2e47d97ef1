// The room's impedance on a cone, and what it does to the cone.
#include "placement/cone_load.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "placement/listening.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

constexpr double pi = std::numbers::pi;

Scenario in_room(double resistance, std::vector<double> frequency) {
    Scenario s;
    s.acoustics.room = {4.1, 5.2, 2.45, {}, {}};
    for (Wall& wall : s.acoustics.room.walls) wall = {{{resistance, 0, 0}}};
    s.acoustics.frequency = std::move(frequency);
    return s;
}

Driver driver() {
    DriverSheet d;
    d.fs = 27, d.qts = 0.45, d.vas = 0.038, d.qes = 0.5, d.re = 5.6, d.sd = 0.034;
    return complete_driver(d, Air{});
}

}  // namespace

TEST_CASE(
    "Cone load: between walls that swallow everything only the far field's resistance is left") {
    // z = rho c absorbs a plane wave wholly. In the middle of such a room little comes back, and
    // what is left is rho c k^2/(4 pi), the resistance of a pulsating sphere (Kinsler ch. 7).
    const Scenario s = in_room(Air{}.impedance(), {80, 120, 160});
    const auto z = cone_impedance(s, {{"", {2.05, 2.6, 1.2}}}, s.acoustics.frequency);
    for (std::size_t f = 0; f < 3; ++f) {
        const double k = 2 * pi * s.acoustics.frequency[f] / s.acoustics.air.speed_of_sound;
        const double free = s.acoustics.air.impedance() * k * k / (4 * pi);
        INFO(s.acoustics.frequency[f] << " Hz: " << z(f, 0) << ", free " << free);
        CHECK(std::abs(z(f, 0) - free) < 0.35 * free);
    }
}

TEST_CASE("Cone load: far below the modes the sealed room is a spring") {
    // p = rho c^2 U/(j w V) (Kinsler et al., sec. 10.8), less the mass of the near field, which is
    // tiny beside it at 2 Hz.
    Scenario s = in_room(1e7, {2});
    const auto z = cone_impedance(s, {{"", {1, 1, 1}}}, s.acoustics.frequency);
    const double rho_c2 =
        s.acoustics.air.density * s.acoustics.air.speed_of_sound * s.acoustics.air.speed_of_sound;
    const Complex spring = rho_c2 / (Complex{0, 2 * pi * 2} * s.acoustics.room.volume());
    CHECK(std::abs(z(0, 0) / spring - 1.0) < 0.02);
}

TEST_CASE("Cone load: a rigid wall near by adds the pressure of the image") {
    // j w rho e^{-2jkd}/(4 pi 2d) (Morse & Ingard, Theoretical Acoustics, sec. 7.4), as the
    // difference of two distances: the other walls are far and swallow most of what reaches them.
    Scenario s = in_room(Air{}.impedance(), {25, 60, 100});
    s.acoustics.room.width = s.acoustics.room.length = s.acoustics.room.height = 8;
    s.acoustics.room.walls[left_wall] = {{{1e7, 0, 0}}};
    const auto near = cone_impedance(s, {{"", {0.25, 4, 4}}}, s.acoustics.frequency);
    const auto off = cone_impedance(s, {{"", {0.6, 4, 4}}}, s.acoustics.frequency);
    for (std::size_t f = 0; f < 3; ++f) {
        const double w = 2 * pi * s.acoustics.frequency[f], k = w / s.acoustics.air.speed_of_sound;
        const auto image = [&](double d) {
            return Complex{0, w * s.acoustics.air.density} * std::polar(1.0, -2 * k * d) /
                   (4 * pi * 2 * d);
        };
        const Complex expected = image(0.25) - image(0.6), found = near(f, 0) - off(f, 0);
        INFO(found << " for " << expected);
        CHECK(std::abs(found - expected) < 0.06 * std::abs(expected));
    }
}

TEST_CASE("Cone load: the cone gives the room no more power than it takes from the amplifier") {
    // Passivity: Re Z >= 0 for one cone; for two the Hermitian part of the matrix has no negative
    // eigenvalue. And the grid, which shares nothing with the sum over modes, finds the same but
    // for its own idea of the near field, a mass below 0.15 kg/m4: 0.2 g on a cone of 340 cm2.
    Scenario s = in_room(9000, {20, 31.5, 41, 50, 63, 80, 100});
    const std::vector<PlacedSub> subs{{"", {0.35, 0.4, 0.25}}, {"", {3.7, 4.7, 0.25}}};
    const auto z = cone_impedance(s, subs, s.acoustics.frequency);
    s.acoustics.solver.solver = RoomSolver::grid;
    const auto grid = cone_impedance(s, subs, s.acoustics.frequency);
    for (std::size_t f = 0; f < s.acoustics.frequency.size(); ++f) {
        const double a = z(f, 0, 0).real(), d = z(f, 1, 1).real();
        const Complex b = (z(f, 0, 1) + std::conj(z(f, 1, 0))) / 2.0;
        CHECK(a > 0);
        CHECK(d > 0);
        CHECK(a * d - std::norm(b) > -1e-3 * a * d);
        INFO(s.acoustics.frequency[f] << " Hz: " << z(f, 0, 0) << ", grid " << grid(f, 0, 0));
        CHECK(grid(f, 0, 0).real() == Approx(z(f, 0, 0).real()).epsilon(0.02));
        CHECK(std::abs(grid(f, 0, 0).imag() - z(f, 0, 0).imag()) <
              2 * pi * s.acoustics.frequency[f] * 0.15);
    }
}

TEST_CASE("Cone load: one cone follows U = U_free/(1 + Y Z)") {
    Scenario s = in_room(9000, {33, 50});
    const Driver d = driver();
    const ClosedBox box = closed_box_for_qtc(d, 0.7, 1);
    const ByFrequency<Complex> z(2, 1, 1, {{50, 400}, {900, -30}});
    const auto& frequency = s.acoustics.frequency;
    const ByFrequency<Complex> u(2, 1, 1, volume_velocity(d, box, frequency, s.acoustics.air));
    const auto loaded = loaded_cones(d, {box}, s.acoustics.air, frequency, z, u);
    for (std::size_t f = 0; f < 2; ++f) {
        // U = Sd Bl V/(Ze Zm + Bl^2) (Beranek & Mellow ch. 6) with Sd^2 Z more on the cone.
        const Complex jw{0, 2 * pi * s.acoustics.frequency[f]};
        const double spring = 1 / *d.cms + s.acoustics.air.density *
                                               std::pow(s.acoustics.air.speed_of_sound, 2) * *d.sd *
                                               *d.sd / box.apparent_volume;
        const Complex mechanical = *d.rms + jw * *d.mms + spring / jw + *d.sd * *d.sd * z(f, 0);
        const Complex expected = *d.sd * *d.bl * 2.83 / (*d.re * mechanical + *d.bl * *d.bl);
        CHECK(std::abs(loaded(f, 0) / expected - 1.0) < 1e-9);
    }
    // What does not fit is refused, not read beyond its end.
    CHECK_THROWS_AS(loaded_cones(d, {box, box}, s.acoustics.air, frequency, z, u),
                    std::length_error);
}
