#pragma once
#include <complex>

namespace boxroom {

/// Of harmonic time e^(j w t) throughout (ISO 80000-2: j or i).
inline constexpr std::complex<double> j{0, 1};

}  // namespace boxroom
