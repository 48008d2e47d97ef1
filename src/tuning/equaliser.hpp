#pragma once
#include <span>
#include <vector>

#include "tuning/flattening.hpp"

namespace boxroom {

/// Peaking filters that bring the seat average (power, F) nearer to the target.
///
/// One filter at a time goes where most is left of the deviation of the 1/12-octave curve (what
/// unevenness measures), then all are refined together, to the lowest cost near by (Flattening).
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
