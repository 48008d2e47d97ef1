#pragma once
#include <span>
#include <string>
#include <vector>

#include "measured/recordings.hpp"

namespace boxroom {

/// The level of one recording on a grid of frequencies, and its phase where that was measured.
struct HeardCurve {
    Recording recording;
    std::vector<double> frequency;  ///< (F) [Hz]
    std::vector<double> level_db;   ///< (F); dB re 20 uPa where absolute, else with an unknown gain
    std::vector<double> phase;      ///< (F) [rad], of e^(j w t); empty: unknown
    double start_s = 0;             ///< a delay that `phase` is without
    std::vector<double> doubt_db;   ///< (F) one standard deviation by noise
    std::vector<char> trusted;      ///< (F) 0: outside what was measured, or too near to the noise
    bool absolute = false;
    std::vector<std::string> notes;
    bool any_trusted() const;
};

/// How far a curve's levels are taken to be wrong that come without their noise; assumed [dB]: a
/// careful sweep's. More of it shows in what a fit leaves over.
inline constexpr double curve_doubt_db = 0.15;

/// The recording read, put through measured_response() where it is a sound, with the microphone's
/// correction added (`correction_db` of its file is added to what was recorded), on these
/// frequencies. A curve is read off between its points, straight over ln f; not trusted beyond its
/// ends and across gaps of more than a sixth of an octave. Throws Error for files that cannot be
/// read or tell nothing.
HeardCurve heard_curve(const Recording& recording, const Microphone& microphone,
                       std::span<const double> frequency);

/// The constant that takes `measured` nearest to `predicted` (both (F) [dB]), each trusted point by
/// its weight; NaN where none is trusted or weighs.
double best_offset(const HeardCurve& measured, std::span<const double> predicted,
                   std::span<const double> weight);

/// RMS of measured + offset - predicted over the same points [dB].
double apart_db(const HeardCurve& measured, std::span<const double> predicted,
                std::span<const double> weight, double offset);

/// The curve with its power smoothed over so many octaves; points that are not trusted stay out.
HeardCurve smoothed(HeardCurve curve, double octaves);

}  // namespace boxroom
