#pragma once
#include <span>
#include <vector>

#include "base/frequency_grid.hpp"

namespace boxroom {

/// A free oscillation: it stands in a response as a peak of half width frequency/(2 q).
struct Resonance {
    double frequency = 0, q = 0;
};

/// How finely peaks are stepped through.
struct Fineness {
    int per_octave = 48;       ///< where nothing resonates sharply
    double of_width = 1.3;     ///< largest step on a peak, in half widths
    double of_distance = 0.4;  ///< ... beside it, as a share of the way to its middle
    double beside_band = 2.5;  ///< both so many times larger outside the judged band
    int parts = 200;           ///< in which the demand of one even step is summed up
};

/// logarithmic_grid over `analysed`, its points and the two ends of `judged`, with more points
/// between them wherever a resonance makes the response change faster than that: from half an
/// octave below `judged` to half an octave above (what one-octave smoothing draws in). The step in
/// ln f is at most max(of_width w, of_distance |ln f - ln f_n|) of every resonance n, w = 1/(2 q):
/// a Lorentzian peak sampled evenly at its half width has its integral by the trapezoidal rule
/// within 2 e^-2pi, and its flanks, which fall as the square, want steps in proportion to the
/// distance.
std::vector<double> resolved_grid(const Band& analysed, const Band& judged,
                                  std::span<const Resonance> resonances,
                                  const Fineness& fineness = {});

}  // namespace boxroom
