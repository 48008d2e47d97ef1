#pragma once
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "results/sets.hpp"

namespace boxroom {

/// What the shared equaliser may do.
struct EqLimits {
    int filters = 5;
    double most_boost = 4;  ///< [dB], of a filter and of their sum
    double most_cut = 15;   ///< [dB]
    double widest_q = 0.5;
    double sharpest_boost = 1.4;  ///< Q; a narrow boost would fill a null
    double sharpest_cut = 8;      ///< Q
    double null_depth = 6;        ///< [dB] below the octave average: a null, never boosted
};

/// Peaking filters that bring the seat average (power, F) nearer to the target.
///
/// One filter at a time goes where most is left of the deviation of the 1/12-octave curve (what
/// unevenness measures), then all are refined together (Nelder & Mead, Computer Journal 7, 1965).
/// A frequency more than null_depth under the octave average is a null: there the sum of the
/// filters stays at or below 0 dB, since boost would only spend power and travel. Rounded to 0.5
/// Hz, 0.1 dB and two digits of Q. May return no filter where none helps by 0.1 dB.
std::vector<EqFilter> equalise(const Judge& judge, std::span<const double> power,
                               const EqLimits& limits = {});

/// Squared pressures at the seats (F,S), or their average (F), times |H|^2 of the filters.
ByFrequency<double> equalised(const Judge& judge, const ByFrequency<double>& power,
                              std::span<const EqFilter> filters);
std::vector<double> equalised(const Judge& judge, std::span<const double> power,
                              std::span<const EqFilter> filters);

}  // namespace boxroom
