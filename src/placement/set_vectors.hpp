#pragma once
#include "base/processor.hpp"

namespace boxroom {

// What SetKernel spends its time on, as plain numbers: the files in vectors/ read nothing else
// (base/lanes.hpp says why).

inline constexpr int lane_count = 16;  ///< sets that are judged at once, whatever the processor

/// What a smoothed point averages over, as OctaveSmoother::Window: weights are divided by the width
/// already.
struct SmoothingWindow {
    int low, low_next, high, high_next;
    float low_weight, low_next_weight, high_weight, high_next_weight, inverse_width;
};

/// A Judge in single precision; levels in log2 of power.
struct SetNumbers {
    int seats, frequencies, band_first, band_count;
    const float* seat_weight;           ///< (S)
    const float *band_weight, *target;  ///< (band)
    const float *gain, *cell;           ///< (F) what a power is multiplied by; OctaveSmoother::cell
    const SmoothingWindow *twelfth, *whole;  ///< (band)
    float level_offset;                      ///< [dB]
};

/// All in dB; level to the same reference as Criteria::level_db.
struct SetVerdicts {
    float spread[lane_count], unevenness[lane_count], balance[lane_count], level[lane_count];
};

/// Of SetVectors::judge_roughly [dB]: 0.04304 of 10 log10(2), and a little for rounding. Deviations
/// x + e of levels x with errors |e| <= a: their standard deviation is a seminorm, so it is off by
/// that of e at most, which is a at most.
inline constexpr float rough_error = 0.1305f;

/// Sixteen boxes at one spot: the mean power over its seats at f is scale x sum over rows of weight
/// x product.
struct BoxNumbers {
    int frequencies, band_count, rows;
    const float* weight;                ///< [row][lane]
    const float* scale;                 ///< [f][lane]
    const float* cell;                  ///< (F)
    const float *band_weight, *target;  ///< (band)
    const SmoothingWindow* whole;       ///< (band)
    const float* product;               ///< [row * stride + f]
    int stride;
};

struct SetVectors {
    /// The sets that `base`, [f][seat][re, im], makes with each of 16 fields, [f][seat][re,
    /// im][lane]. `scratch` has 3 * (F + 1) * 16 numbers.
    void (*judge)(const SetNumbers& numbers, const float* base, const float* field, float* scratch,
                  SetVerdicts& out);
    /// The same from logarithms that are off by 0.04304 at most, in two thirds of the time: each
    /// verdict within `rough_error`.
    void (*judge_roughly)(const SetNumbers& numbers, const float* base, const float* field,
                          float* scratch, SetVerdicts& out);
    /// The balance of each of 16 boxes [dB]. `scratch` has 3 * (F + 1) * 16 numbers.
    void (*balances)(const BoxNumbers& numbers, float* scratch, float* balance);
    /// log2 of 16 positive numbers, to 1.5e-5: 4.5e-5 dB of a power. Of zero about -127, as good as
    /// silence.
    void (*logarithm)(const float* x, float* out);
};

/// The one for these instructions, which the processor must have.
const SetVectors& set_vectors(VectorSet set = vector_set());

}  // namespace boxroom
