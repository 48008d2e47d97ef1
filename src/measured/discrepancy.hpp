#pragma once
#include <span>
#include <vector>

namespace boxroom {

/// The mean power of points of the fit's grid about each, the outer two by half: 1/12 octave.
inline constexpr double smoothing_shares[] = {0.5, 1, 1, 1, 0.5};
/// How many points of white noise are one after smoothing: (sum of shares)^2 / sum of squares.
inline constexpr double smoothed_points = 4 * 4 / 3.5;

/// What a fitted model leaves out.
struct Discrepancy {
    double db = 3;            ///< one standard deviation of a smoothed level
    double alike_points = 8;  ///< of the grid over which it is alike: their number counts for one
};

/// That of residuals (R)(F) [dB], smoothed; points that do not count are 0, `count` do.
///   alike_points  1 + 2 sum of rho_k up to the first that is not positive, no less than smoothing
///                 makes alike (Bayley & Hammersley, J. R. Statist. Soc. Suppl. 8, 1946: the
///                 effective number of independent observations in an autocorrelated series)
///   db^2          sum of squares / (count - alike_points * told), `told` being how many numbers
///                 the data have told: what they were taken from is no longer in the residuals
///                 (MacKay, Neural Computation 4, 1992, "Bayesian interpolation", section 4)
/// Of fewer independent points than four thirds of `told`, a quarter is left.
Discrepancy discrepancy_of(std::span<const std::vector<double>> residuals, double count,
                           double told);

}  // namespace boxroom
