// Allen & Berkley, "Image method for efficiently simulating small-room acoustics", JASA 65 (1979):
// with rigid walls the room's field is the sum over image sources e^{-jkR}/(4 pi R), exactly.
// Losses in the air (complex k) make the sum converge.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/axis_modes.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

TEST_CASE("Rigid room with lossy air: modes equal image sources") {
    const double side[] = {3.1, 4.3, 2.3}, from[] = {0.4, 0.5, 0.2}, to[] = {1.9, 2.8, 1.2};
    const double decay = 0.35;  // 1/m; images beyond 60 m carry e^-21
    for (const double wavenumber : {0.3, 1.1, 2.4}) {
        const Complex k{wavenumber, -decay};

        Complex images = 0;
        const int reach[] = {22, 16, 28};
        for (int a = -reach[0]; a <= reach[0]; ++a)
            for (int b = -reach[1]; b <= reach[1]; ++b)
                for (int c = -reach[2]; c <= reach[2]; ++c)
                    for (int flip = 0; flip < 8; ++flip) {
                        const double dx = 2 * a * side[0] + (flip & 1 ? -1 : 1) * from[0] - to[0];
                        const double dy = 2 * b * side[1] + (flip & 2 ? -1 : 1) * from[1] - to[1];
                        const double dz = 2 * c * side[2] + (flip & 4 ? -1 : 1) * from[2] - to[2];
                        const double r = std::hypot(dx, dy, dz);
                        images += std::exp(Complex{0, -1} * k * r) / (4 * M_PI * r);
                    }

        const AxisProblem x{side[0], k, 0, 0}, y{side[1], k, 0, 0}, z{side[2], k, 0, 0};
        Complex modes = 0;
        for (const Complex& m : axis_eigenvalues(x, 40))
            for (const Complex& n : axis_eigenvalues(y, 50))
                modes += axis_function(x, m, from[0]) * axis_function(x, m, to[0]) /
                         axis_norm(x, m) * axis_function(y, n, from[1]) *
                         axis_function(y, n, to[1]) / axis_norm(y, n) *
                         axis_green(z, k * k - m - n, from[2], to[2]);
        INFO("k = " << wavenumber);
        CHECK(std::abs(modes / images - 1.0) < 1e-6);
    }
}

TEST_CASE("A duct with impedance ends: the closed form against its modes") {
    // Morse & Ingard 1968, sec. 9.1: G = sum psi_n psi_n'/(Lambda_n (q_n^2 - kappa^2)).
    const AxisProblem duct{3.7, 1.3, {0.2, 0.1}, {0.05, -0.3}};
    const double kappa = 1.3;
    Complex modes = 0;
    const auto q2 = axis_eigenvalues(duct, 4000);
    for (const Complex& q : q2)
        modes += axis_function(duct, q, 0.4) * axis_function(duct, q, 2.9) /
                 (axis_norm(duct, q) * (q - kappa * kappa));
    CHECK(std::abs(modes / axis_green(duct, kappa * kappa, 0.4, 2.9) - 1.0) < 1e-4);
}
