#pragma once
#include <string>

#include "files/results_file.hpp"
#include "measured/room_fit.hpp"

namespace boxroom {

/// fit.h5, sealed as every results file is; root attributes as there, kind "fit". R recordings, F
/// frequencies, P parameters, N seats.
///   /frequency (F) Hz; /recordings/name (R), /position (R,3) m, /measured /before /after /doubt
///   (R,F) dB (measured NaN where not trusted; before and after with the gain found; doubt one
///   standard deviation), /gain (R) dB, /delay (R) s and /inverted (R) flag (delay NaN where not
///   told) /parameters/name /unit (P), /low /best /high /prior_low /prior_high (P),
///   /told_apart (P) flag /seats/name (N), /before /after (N) dB; /left_out likewise /discrepancy
///   () dB
std::string fit_hdf5(const RoomFit& fit, const std::vector<HeardCurve>& heard,
                     const Provenance& provenance);

}  // namespace boxroom
