#pragma once
#include <cmath>
#include <cstddef>

namespace boxroom {

inline constexpr double z90 = 1.645;  ///< of the normal law: 90 % lie within so many deviations

/// A value and what it may as well be: 90 % lie from low to high.
struct Interval {
    double low = 0, best = 0, high = 0;
};

/// The two-sided 90 % point of Student's t with so many degrees of freedom, by Cornish and Fisher's
/// series about the normal point (Abramowitz & Stegun 26.7.5); within 1 % from four on.
inline double student_90(double freedom) {
    const double z = 1.6448536269514722, n = std::fmax(freedom, 1.0);
    const double g1 = (z * z * z + z) / 4;
    const double g2 = (5 * std::pow(z, 5) + 16 * z * z * z + 3 * z) / 96;
    const double g3 = (3 * std::pow(z, 7) + 19 * std::pow(z, 5) + 17 * z * z * z - 15 * z) / 384;
    return z + g1 / n + g2 / (n * n) + g3 / (n * n * n);
}

}  // namespace boxroom
