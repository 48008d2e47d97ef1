#include "solvers/wall.hpp"

#include <cmath>

#include "base/error.hpp"

namespace boxroom {

std::complex<double> Wall::admittance(std::complex<double> omega, const Air& air) const {
    const std::complex<double> s = std::complex<double>{0, 1} * omega;
    std::complex<double> sum = 0;
    for (const Branch& b : branches) sum += 1.0 / (b.resistance + s * b.mass + b.stiffness / s);
    return air.impedance() * sum;
}

double random_incidence_absorption(std::complex<double> beta) {
    // alpha(theta) = 4 g u/((u + g)^2 + b^2) with u = cos theta, beta = g + j b; Paris: 2 int u alpha du
    // = 8 g [1 - g ln(((1+g)^2 + b^2)/(g^2 + b^2)) + (g^2 - b^2) atan2(b, g^2 + b^2 + g)/b].
    const double g = beta.real(), b = beta.imag();
    if (g <= 0) return 0;
    const double square = g * g + b * b;
    const double log_term = g * std::log(((1 + g) * (1 + g) + b * b) / square);
    const double angle = std::abs(b) < 1e-9 * (1 + g) ? 1 / (square + g)
                                                      : std::atan2(b, square + g) / b;
    return 8 * g * (1 - log_term + (g * g - b * b) * angle);
}

Wall wall_from_absorption(double alpha, const Air& air) {
    if (!(alpha > 0 && alpha <= 0.95))
        throw Error("", "an absorption coefficient must lie above 0 and at most at 0.95",
                    "a locally reacting wall absorbs 0.951 at most in random incidence; write for "
                    "example absorption = 0.05");
    double low = 0, high = 1 / 1.567;  // beta; the absorption rises up to here (Kuttruff, sec. 2.5)
    for (int i = 0; i < 100; ++i) {
        const double middle = (low + high) / 2;
        (random_incidence_absorption(middle) < alpha ? low : high) = middle;
    }
    return {{{air.impedance() / high, 0, 0}}};
}

}  // namespace boxroom
