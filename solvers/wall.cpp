#include "solvers/wall.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"

namespace boxroom {
namespace {

/// Without the library's guards against overflow, which nothing here comes near.
std::complex<double> admittance_quotient(std::complex<double> a, std::complex<double> b) {
    return a * std::conj(b) / std::norm(b);
}

}  // namespace

std::complex<double> Wall::admittance(std::complex<double> omega, const Air& air) const {
    const std::complex<double> s = std::complex<double>{0, 1} * omega;
    std::complex<double> sum = 0;
    for (const Branch& b : branches) {
        // 1/z = s/(K + s R + s^2 M); without a spring the s cancels, which keeps w = 0 in reach.
        sum += b.stiffness > 0
                   ? admittance_quotient(s, b.stiffness + s * (b.resistance + s * b.mass))
                   : admittance_quotient(1.0, b.resistance + s * b.mass);
    }
    return air.impedance() * sum;
}

double random_incidence_absorption(std::complex<double> beta) {
    // With u = cos theta and beta = g + j b, alpha(theta) = 1 - |(u - beta)/(u + beta)|^2
    // = 4 g u/((u + g)^2 + b^2). Paris: 2 int_0^1 alpha u du = 8 g int u^2/((u + g)^2 + b^2) du
    // = 8 g [1 - g ln(((1 + g)^2 + b^2)/(g^2 + b^2)) + (g^2 - b^2) A],
    // A = [atan((1 + g)/b) - atan(g/b)]/b = atan(b/(g^2 + b^2 + g))/b -> 1/(g^2 + g) for b -> 0.
    const double g = beta.real(), b = beta.imag();
    if (g <= 0) return 0;
    const double square = g * g + b * b;
    const double log_term = g * std::log1p((1 + 2 * g) / square);
    // Relative to g^2 + b^2 + g, not to 1: for a stiff wall both parts of beta are tiny.
    const double angle =
        std::abs(b) < 1e-8 * (square + g) ? 1 / (square + g) : std::atan2(b, square + g) / b;
    return 8 * g * (1 - log_term + (g * g - b * b) * angle);
}

Wall wall_from_absorption(double alpha, const Air& air) {
    if (!(alpha > 0 && alpha <= 0.95))
        throw Error("", "an absorption coefficient must lie above 0 and at most at 0.95",
                    "a locally reacting wall absorbs 0.951 at most in random incidence; write for "
                    "example absorption = 0.05");
    // Real beta absorbs most at 1/1.567 (Kuttruff, Room Acoustics, sec. 2.5) and rises up to there,
    // so bisection from below stays on the branch R > rho c.
    double low = 0, high = 1 / 1.567;
    for (int i = 0; i < 100; ++i) {
        const double middle = (low + high) / 2;
        (random_incidence_absorption(middle) < alpha ? low : high) = middle;
    }
    return {{{air.impedance() / high, 0, 0}}};
}

Wall softened(Wall wall, double factor) {
    for (Branch& b : wall.branches) b.resistance /= factor, b.mass /= factor, b.stiffness /= factor;
    return wall;
}

Wall mean_wall(std::span<const WallPart> parts, double area) {
    double given = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (!(parts[i].area > 0) && !(i == 0 && parts[i].area == 0))
            throw Error("", "a part of a wall has no area", "write its area, as in \"1.8 m2\"");
        given += parts[i].area;
    }
    const bool first_takes_rest = !parts.empty() && parts[0].area == 0;
    const double rest = area - given;
    if (first_takes_rest ? !(rest > 0) : !(std::abs(rest) <= 1e-6 * area))
        throw Error("",
                    "the parts of a wall have " + number(given, 2) + " m2, the wall has " +
                        number(area, 2) + " m2",
                    "make them smaller, or leave out the area of the first: it takes the rest");
    Wall mean;
    for (const WallPart& part : parts) {
        const double scale = area / (part.area > 0 ? part.area : rest);
        for (const Branch& b : part.wall.branches)
            mean.branches.push_back({scale * b.resistance, scale * b.mass, scale * b.stiffness});
    }
    return mean;
}

}  // namespace boxroom
