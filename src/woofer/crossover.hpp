#pragma once
#include <complex>
#include <string>

#include "woofer/driver.hpp"

namespace boxroom {

/// Divides the signal between subs and main loudspeakers.
struct Crossover {
    enum class Kind { butterworth, linkwitz_riley } kind = Kind::linkwitz_riley;
    int order = 4;          ///< 2 or 4
    double frequency = 80;  ///< of the filters' formulas [Hz]

    /// Low-pass 1/D(s), s = j f/frequency, and high-pass s^order/D(s). Butterworth (Wireless
    /// Engineer 7, 1930): D = s^2 + sqrt(2) s + 1; order 4: (s^2 + 0.7654 s + 1)(s^2 + 1.8478 s +
    /// 1). Linkwitz-Riley (Linkwitz, JAES 24(1) 1976): a Butterworth filter of half the order,
    /// twice: D = (s + 1)^2; order 4: (s^2 + sqrt(2) s + 1)^2.
    std::complex<double> low_pass(double f) const;
    std::complex<double> high_pass(double f) const;
};

std::string crossover_name(Crossover::Kind kind);  ///< "butterworth", "linkwitz-riley"

/// Pressure at 1 m in half space well above fc, at 2.83 V: rho Sd Bl V/(2 pi Re Mms), coil
/// inductance left out (Small 1972); 20 uPa (0 dB) for a driver that is not absolute [Pa].
double passband_pressure(const Driver& driver, const Air& air);

}  // namespace boxroom
