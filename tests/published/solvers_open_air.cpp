// What lies beyond an opening to the open air: a piston in a wall.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/room_plan.hpp"

using namespace boxroom;

TEST_CASE("An opening radiates like a piston in a wall (Kinsler et al., 4th ed., sec. 7.5)") {
    // z/(rho c) = R1(2ka) + j X1(2ka), R1(x) = 1 - 2 J1(x)/x -> x^2/8, X1(x) -> 4x/(3 pi); both are
    // also in Beranek, Acoustics, 1954, sec. 5.3 (from memory). Two branches follow it for small
    // ka.
    const Air air;
    for (const double area : {0.5, 1.6})
        for (const double ka : {0.02, 0.1, 0.25}) {
            INFO("area " << area << " m2, ka " << ka);
            const double omega = ka / std::sqrt(area / M_PI) * air.speed_of_sound;
            const std::complex<double> z = 1.0 / open_air(area, air).admittance(omega, air);
            CHECK(z.real() ==
                  Approx(1 - std::cyl_bessel_j(1, 2 * ka) / ka).epsilon(0.08).margin(1e-5));
            CHECK(z.imag() == Approx(8 * ka / (3 * M_PI)).epsilon(0.03));
        }
    // At high frequency the mass blocks and all that is left is of the size of rho c.
    CHECK(std::abs(1.0 / open_air(1.6, air).admittance(2e4, air)) == Approx(1).margin(0.5));
}
