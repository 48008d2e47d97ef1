#pragma once
#include <complex>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "results/sets.hpp"
#include "tuning/settings_vectors.hpp"

namespace boxroom {

/// "peaking", "low shelf", "high shelf": in files and on paper.
const char* filter_name(EqFilter::Kind kind);
std::optional<EqFilter::Kind> filter_named(std::string_view name);

/// A digital filter of second order, a0 = 1:
///   y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]
///   H(z) = (b0 + b1 z^-1 + b2 z^-2)/(1 + a1 z^-1 + a2 z^-2).
/// Some processors store -a1 and -a2 instead: the exports say which is meant.
struct Biquad {
    double b0 = 1, b1 = 0, b2 = 0, a1 = 0, a2 = 0;
    /// H at z = e^{j 2 pi f/rate}.
    std::complex<double> response(double frequency, double rate) const;
    bool stable() const;  ///< both poles inside the unit circle
};

/// R. Bristow-Johnson, "Cookbook formulae for audio equalizer biquad filter coefficients": peaking
/// EQ, low shelf and high shelf, with Q; `rate` in Hz. Throws Error for a frequency outside
/// (0, rate/2) or a Q that is not above zero.
Biquad biquad(const EqFilter& filter, double rate);

/// |H|^2 of one filter over x = equaliser_place(f).
FilterPower filter_power(const EqFilter& filter);
double equaliser_place(double frequency);  ///< sin^2(pi f/rate)

/// |H|^2 of the filters' product at each frequency; at 192 kHz, where it is the analogue
/// prototype's to 0.01 dB below 500 Hz.
std::vector<double> equaliser_power(std::span<const EqFilter> filters,
                                    std::span<const double> frequency);
/// The same in dB.
std::vector<double> equaliser_db(std::span<const EqFilter> filters,
                                 std::span<const double> frequency);
/// 10 lg |H|^2.
std::vector<double> gains_db(std::span<const double> power);
/// Levels (F) behind filters of these gains (F) [dB]. Throws std::length_error for unlike lengths.
std::vector<double> raised(std::vector<double> level_db, std::span<const double> gain_db);

}  // namespace boxroom
