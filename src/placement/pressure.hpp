#pragma once
#include <complex>

#include "base/by_frequency.hpp"

namespace boxroom {

/// Pressures at the seats (F,S) of several sources: the sum over q of Z (F,S,Q) U (F,Q). Throws
/// std::length_error where the two do not fit each other.
ByFrequency<std::complex<double>> pressure_at(const ByFrequency<std::complex<double>>& transfer,
                                              const ByFrequency<std::complex<double>>& velocity);
/// |p|^2, and the level of it, element by element.
ByFrequency<double> squared(const ByFrequency<std::complex<double>>& pressure);
ByFrequency<double> levels(const ByFrequency<double>& power);

}  // namespace boxroom
