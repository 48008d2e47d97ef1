#pragma once
#include "base/processor.hpp"

namespace boxroom {

// What the modal solver spends its time on, as plain numbers: the files in vectors/ read nothing
// else (base/lanes.hpp says why). Complex arrays are two planes, of real and of imaginary parts.

/// One axis of the room at one frequency (AxisProblem): its length and j k beta of its two ends.
struct AxisNumbers {
    double length, end0_re, end0_im, end1_re, end1_im;
};

/// The same of a problem.
struct AxisProblem;
AxisNumbers axis_numbers(const AxisProblem& axis);

/// Complex numbers of the modes of an axis, in double precision; with room for a multiple of 16.
struct ModeNumbers {
    double *re, *im;
};

/// One row of the sum over modes, for one m of the first axis: what every n of the second gives.
struct RowOfTerms {
    const AxisNumbers* axis;      ///< the one that is solved in closed form
    double kappa2_re, kappa2_im;  ///< k^2 - q_m^2
    double factor_re, factor_im;  ///< of every term
    ModeNumbers q2;               ///< q_n^2
    int count;                    ///< of n
    const double* source_height;
    int source_heights;
    const double* receiver_height;
    int receiver_heights;
    int receivers;
    const int* height_of;     ///< which height each receiver has
    ModeNumbers left, right;  ///< [receiver * left_step], [receiver * right_step + n]
    int left_step, right_step;
    float *out_re, *out_im;  ///< [source height * height_step + receiver * receiver_step + n]
    int height_step, receiver_step;
    float* scratch;  ///< 64 for every height of either kind
};

struct FloorVectors {
    /// Eigenvalues q_n^2, n < count, by Newton's method from their first-order values; false where
    /// one does not settle. Whether it found each of them once, the sum rule says.
    bool (*eigenvalues)(const AxisNumbers& axis, int count, ModeNumbers q2);
    /// One step of Newton's method from each q_n^2, which squares a small error.
    void (*polish)(const AxisNumbers& axis, int count, ModeNumbers q2);
    /// psi_n(x_r)/Lambda_n (axis_function, axis_norm), out[r * stride + n].
    void (*weighted)(const AxisNumbers& axis, int count, ModeNumbers q2, const double* x,
                     int points, ModeNumbers out, int stride);
    /// psi_n(x) = cos(q_n x) + j k beta_0 sin(q_n x)/q_n, out[n * stride + i]; points a multiple of
    /// 16.
    void (*mode_functions)(const AxisNumbers& axis, int count, ModeNumbers q2, const double* x,
                           int points, float* re, float* im, int stride);
    /// left_m right_n G(kappa_mn; z, z') for every receiver, with axis_green's G.
    void (*row_of_terms)(const RowOfTerms& row);
};

/// The one for these instructions, which the processor must have.
const FloorVectors& floor_vectors(VectorSet set = vector_set());

}  // namespace boxroom
