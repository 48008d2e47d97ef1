#pragma once
#include <complex>
#include <optional>
#include <span>
#include <vector>

#include "woofer/driver.hpp"

namespace boxroom {

/// A driver in a closed box as the second-order high-pass it is (Small, JAES 20(10) 1972).
struct ClosedBox {
    double volume = 0;           ///< net volume [m3]
    double filling = 1;          ///< apparent gain of the filling, 1.0 to 1.40
    double apparent_volume = 0;  ///< Vab = volume x filling [m3]
    double alpha = 0;            ///< Vas / Vab
    double fc = 0, qtc = 0;

    /// H(jw) = s^2/(s^2 + s/Qtc + 1), s = j f/fc.
    std::complex<double> response(double frequency) const;
    double f3() const;       ///< -3 dB frequency [Hz]
    double peak_db() const;  ///< height of the peak above the passband, 0 for Qtc <= 0.707
    double group_delay(double frequency) const;   ///< [s]
    double impulse_response(double time) const;   ///< without the delta at t = 0 [1/s]
    double step_response(double time) const;      ///< pressure after a unit step
    double displacement_step(double time) const;  ///< cone, final value 1
    double displacement_overshoot() const;        ///< fraction above the final value
};

/// fc/fs = Qtc/Qts = sqrt(1 + Vas/Vab). Throws Error for volume <= 0 or filling outside [1, 1.4].
ClosedBox closed_box(const Driver& driver, double volume, double filling);
/// The box with this Qtc: Vab = Vas/((Qtc/Qts)^2 - 1). Throws Error, saying why, for Qtc <= Qts.
ClosedBox closed_box_for_qtc(const Driver& driver, double qtc, double filling);

/// eta0 = 4 pi^2/c^3 fs^3 Vas/Qes (Small 1972; half space). Empty where Qes is unknown.
std::optional<double> reference_efficiency(const Driver& driver, const Air& air);
/// 112 dB + 10 log10 eta0 at 1 m in half space (1 W, Re): exactly 10 log10(rho c/(2 pi)/p0^2 eta0).
std::optional<double> spl_1w_1m_db(const Driver& driver, const Air& air);

/// Volume velocity of the cone [m3/s], RMS, for each frequency, at `volts` RMS at the terminals.
/// Absolute drivers: U = Sd Bl V / (Ze Zm + Bl^2), Ze = Re + jwLe, Zm = Rms + jwMms + (1/Cms +
/// rho c^2 Sd^2/Vab)/(jw). Others: scaled so that the passband gives p0 = 20 uPa (0 dB) at 1 m in
/// half space: U = p0 2 pi/(j w rho) H(f).
std::vector<std::complex<double>> volume_velocity(const Driver& driver, const ClosedBox& box,
                                                  std::span<const double> frequency, const Air& air,
                                                  double volts = 2.83);

}  // namespace boxroom
