#pragma once
#include <complex>
#include <span>

#include "base/by_frequency.hpp"
#include "base/dial.hpp"

namespace boxroom {

/// Pressures at the seats (F,S) of several sources: the sum over q of Z (F,S,Q) U (F,Q). Throws
/// std::length_error where the two do not fit each other.
ByFrequency<std::complex<double>> pressure_at(const ByFrequency<std::complex<double>>& transfer,
                                              const ByFrequency<std::complex<double>>& velocity);
/// (F,Q): the factor of each source's dial, what pressure_at() takes for U = 1 of each.
ByFrequency<std::complex<double>> dial_factors(std::span<const double> frequency,
                                               std::span<const Dial> dials);
/// |p|^2, and the level of it, element by element.
ByFrequency<double> squared(const ByFrequency<std::complex<double>>& pressure);
ByFrequency<double> levels(const ByFrequency<double>& power);

}  // namespace boxroom
