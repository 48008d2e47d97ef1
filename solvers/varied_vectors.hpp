#pragma once
#include "base/processor.hpp"

namespace boxroom {

/// Small complex symmetric systems A x = b, as many alike at a time as there are lanes:
/// A = sum_p scale_p P_p with real symmetric P_p that all of them share. What belongs to the lanes
/// lies together; complex numbers are two planes.
struct VariedSystems {
    static constexpr int lanes = 16;
    int size = 0, parts = 0;
    const double* part = nullptr;                           ///< [i (i + 1)/2 + k][p], k <= i
    const double *scale_re = nullptr, *scale_im = nullptr;  ///< [p][lane]
    const double* load = nullptr;  ///< [i][column][lane], real: receivers first, then sources
    int receivers = 0, sources = 0;
    /// [receiver][source][lane]: source^T A^-1 receiver.
    double *out_re = nullptr, *out_im = nullptr;
    double* scratch = nullptr;  ///< scratch_size() of them
    int scratch_size() const { return lanes * size * (size + 15); }
};

struct VariedVectors {
    /// A = L D L^T row by row, without exchanges: a room that takes power leaves no pivot of
    /// nothing, and double precision bears small ones.
    void (*solve)(const VariedSystems& systems);
};

/// The one for these instructions, which the processor must have.
const VariedVectors& varied_vectors(VectorSet set = vector_set());

}  // namespace boxroom
