#pragma once
#include <string>
#include <vector>

namespace boxroom {

/// A stretch of numbers with round ends, and the step between its ticks.
struct Scale {
    double low = 0, high = 1, step = 0.2;
    double position(double value) const { return (value - low) / (high - low); }
    /// Multiples of the step from low to high, both included where they are multiples.
    std::vector<double> ticks() const;
};

/// The smallest of 1, 2, 5 times a power of ten that is at least `rough` (> 0).
double round_step(double rough);

/// A scale for `values`: from the 2nd to the 98th percentile, so that one odd spot does not wash
/// out the picture, widened to multiples of a round step. Values that are all alike get one step
/// either side; no values at all give 0 to 1. Non-finite values must have been left out.
Scale robust_scale(std::vector<double> values);

/// "1.50" with the decimals that the step needs; never "-0".
std::string tick_text(double value, double step);

}  // namespace boxroom
