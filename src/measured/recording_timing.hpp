#pragma once
#include <complex>
#include <optional>
#include <span>

#include "measured/heard_curve.hpp"

namespace boxroom {

/// How a recording lies in time against the model. Its clock is its own: of a sweep it begins with
/// the recording, so only recordings that a machine began together with the sweep share one.
struct RecordingTiming {
    double delay_s = 0;     ///< later than the model
    bool inverted = false;  ///< the other way round: fits better with the sign changed
    double alike = 0;       ///< correlation with the model, delayed and turned: 1 at most
};

/// The delay within 0.2 s of HeardCurve::start_s, and the sign, at which the curve is most like the
/// pressures (F) that are predicted: the largest magnitude of their normalised cross-correlation
/// over these weights (F),
///   C(tau) = Re sum w m conj(p) e^(j 2 pi f tau) / sqrt(sum w |m|^2 sum w |p|^2)
/// (generalised cross-correlation: Knapp & Carter, IEEE Trans. ASSP-24, 1976). Nothing where the
/// curve has no phase, or where it is not told: less alike than 0.6, or as alike the other way
/// round, within 0.1.
std::optional<RecordingTiming> recording_timing(const HeardCurve& heard,
                                                std::span<const std::complex<double>> predicted,
                                                std::span<const double> weight);

}  // namespace boxroom
