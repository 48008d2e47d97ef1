#pragma once
#include <complex>
#include <numbers>
#include <span>
#include <vector>

#include "base/levels.hpp"

namespace boxroom {

/// What is dialled in where a source gets its signal: at a sub's amplifier, at a main loudspeaker.
struct Dial {
    double gain_db = 0;
    double delay = 0;  ///< [s]
    int polarity = 1;  ///< 1 or -1

    /// The size of the factor, the same at every frequency.
    double gain() const { return amplitude_of_db(gain_db); }
    /// By what the source's signal is multiplied at f [Hz], exp(+jwt): polarity 10^(gain/20)
    /// e^{-jw delay}.
    std::complex<double> factor(double f) const {
        return std::polar(gain(), -2 * std::numbers::pi * f * delay) *
               static_cast<double>(polarity);
    }
    /// The same at every frequency, with one power of ten for all.
    std::vector<std::complex<double>> factors(std::span<const double> frequency) const {
        const double size = gain() * polarity;
        std::vector<std::complex<double>> out;
        out.reserve(frequency.size());
        for (const double f : frequency)
            out.push_back(std::polar(1.0, -2 * std::numbers::pi * f * delay) * size);
        return out;
    }
    friend bool operator==(const Dial&, const Dial&) = default;
};

}  // namespace boxroom
