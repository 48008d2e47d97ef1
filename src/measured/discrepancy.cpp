#include "measured/discrepancy.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

constexpr std::size_t farthest = 24;  ///< points: half an octave

/// Sum over all of a residual times the one that is `apart` points on.
double product(std::span<const std::vector<double>> residuals, std::size_t apart) {
    double sum = 0;
    for (const auto& one : residuals)
        for (std::size_t f = 0; f + apart < one.size(); ++f) sum += one[f] * one[f + apart];
    return sum;
}

}  // namespace

Discrepancy discrepancy_of(std::span<const std::vector<double>> residuals, double count,
                           double told) {
    const double squares = product(residuals, 0);
    double alike = 1;
    if (squares > 0)
        for (std::size_t k = 1; k <= farthest; ++k) {
            const double rho = product(residuals, k) / squares;
            if (rho <= 0) break;
            alike += 2 * rho;
        }
    alike = std::max(alike, smoothed_points);
    const double left = std::max(count - alike * told, count / 4);
    return {left > 0 ? std::sqrt(squares / left) : 0, alike};
}

}  // namespace boxroom
