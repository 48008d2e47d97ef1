#pragma once
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "solvers/transfer_impedance.hpp"

/// How far two solvers' answers are apart.
namespace boxroom {

struct Difference {
    double level = 0, phase = 0;
};
/// The largest, up to a frequency [Hz], where the level is not more than 15 dB below the receiver's
/// median.
inline Difference worst(const TransferImpedance<double>& z, const TransferImpedance<double>& exact,
                        const std::vector<double>& frequency, double highest = 150) {
    Difference d;
    for (std::size_t r = 0; r < z.receivers; ++r)
        for (std::size_t s = 0; s < z.sources; ++s) {
            std::vector<double> level;
            for (std::size_t f = 0; f < frequency.size(); ++f)
                level.push_back(std::abs(exact.at(f, r, s)));
            auto sorted = level;
            std::sort(sorted.begin(), sorted.end());
            const double null = sorted[sorted.size() / 2] * std::pow(10.0, -0.75);
            for (std::size_t f = 0; f < frequency.size(); ++f) {
                if (frequency[f] > highest || level[f] < null) continue;
                const std::complex<double> ratio = z.at(f, r, s) / exact.at(f, r, s);
                d.level = std::max(d.level, std::abs(20 * std::log10(std::abs(ratio))));
                d.phase = std::max(d.phase, std::abs(std::arg(ratio)) * 180 / std::numbers::pi);
            }
        }
    return d;
}

inline double mean_error(const TransferImpedance<double>& z,
                         const TransferImpedance<double>& exact) {
    double difference = 0, size = 0;
    for (std::size_t i = 0; i < z.value.size(); ++i) {
        difference += std::norm(z.value[i] - exact.value[i]);
        size += std::norm(exact.value[i]);
    }
    return std::sqrt(difference / size);
}

}  // namespace boxroom
