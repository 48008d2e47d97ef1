#pragma once
#include <algorithm>
#include <cmath>

namespace boxroom {

/// p0 of sound pressure level in air [Pa], RMS (ISO 1683).
inline constexpr double reference_pressure = 20e-6;

/// Ratio of amplitudes (pressure, velocity, voltage) that so many decibels are: 10^(dB/20).
inline double amplitude_of_db(double decibels) {
    return std::pow(10.0, decibels / 20);
}

/// Ratio of powers (mean squares) that so many decibels are: 10^(dB/10).
inline double power_of_db(double decibels) {
    return std::pow(10.0, decibels / 10);
}

/// 20 log10 of a ratio of amplitudes.
inline double db_of_amplitude(double ratio) {
    return 20 * std::log10(ratio);
}

/// Level of a mean-square pressure [Pa2], dB re 20 uPa; -300 dB stands for silence.
inline double level_db(double mean_square_pressure) {
    constexpr double reference = reference_pressure * reference_pressure, silence = 1e-30;
    return 10 * std::log10(std::max(mean_square_pressure / reference, silence));
}

/// Mean-square pressure [Pa2] of a level re 20 uPa.
inline double mean_square_of_level(double decibels) {
    return reference_pressure * reference_pressure * power_of_db(decibels);
}

}  // namespace boxroom
