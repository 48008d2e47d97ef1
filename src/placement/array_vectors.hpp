#pragma once
#include "base/processor.hpp"

namespace boxroom {

// What judging one response after another spends its time on, as plain numbers: the files in
// vectors/ read nothing else (base/lanes.hpp says why).

/// Fields of one spot for several sizes of box, in single precision: [node][seat][frequency], the
/// frequencies `stride` apart from seat to seat, a multiple of 16.
struct SpotNodes {
    int nodes, seats, stride;
    const float *re, *im;
};

struct LevelMoments {
    double mean, square;
};

struct ArrayVectors {
    /// 10 log10(max(x, 4e-40)/4e-10) of `count` mean-square pressures: level_db.
    void (*levels)(const double* power, int count, double* out);

    /// How far the levels of `count` mean-square pressures lie from `target` [dB]: d = level -
    /// target, the sums of weight x d and weight x d^2.
    LevelMoments (*moments)(const double* power, const double* target, const double* weight,
                            int count);

    /// Re(Z_a conj Z_b) for every two nodes a <= b, twice where they differ, weighted mean over the
    /// seats: out[pair * stride + f]. |sum_a w_a Z_a|^2 is the sum of w_a w_b times these.
    void (*products)(const SpotNodes& field, const float* seat_weight, float* out);

    /// out[f] = scale[f] * sum_i weight[i] row[i * stride + f]; a row has room up to a multiple of
    /// 16.
    void (*weighted_sum)(int rows, const float* weight, const float* row, int stride,
                         const double* scale, int count, double* out);
};

/// The one for these instructions, which the processor must have.
const ArrayVectors& array_vectors(VectorSet set = vector_set());

}  // namespace boxroom
