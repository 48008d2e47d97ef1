#pragma once
#include "base/frequency_grid.hpp"
#include "measured/heard_curve.hpp"

namespace boxroom {

/// A recording beside what is predicted for it.
struct BesidePrediction {
    HeardCurve heard;
    std::vector<double> predicted_db;  ///< (F), at the recording's frequencies
    double offset_db = 0;              ///< to be added to what was heard; 0 where it is absolute
    /// RMS over the band, both smoothed over 1/12 octave [dB]; NaN where nothing lies in it.
    double apart_db = 0;
};

BesidePrediction beside_prediction(HeardCurve heard, std::vector<double> predicted_db,
                                   const Band& band);

}  // namespace boxroom
