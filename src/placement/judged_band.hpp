#pragma once
#include <cstddef>
#include <vector>

#include "placement/criteria.hpp"
#include "placement/set_vectors.hpp"

namespace boxroom {

/// What a Judge looks at, in single precision for the processor's vectors: the frequencies of the
/// band and those that smoothing draws in from beside it.
struct JudgedBand {
    explicit JudgedBand(const Judge& judge);

    int low = 0;                        ///< the judge's number of the first frequency kept
    int frequencies = 0;                ///< kept (F)
    int first = 0, last = 0;            ///< of the band, among those kept
    std::vector<float> cell;            ///< (F) half the way to both neighbours, in ln f
    std::vector<float> weight, target;  ///< (band); target in log2 units of power
    std::vector<SmoothingWindow> twelfth, whole;  ///< (band)

    int count() const { return last - first + 1; }
    /// Numbers that the functions of SetVectors need to work with: powers, their running sum and
    /// the variance over the seats.
    std::size_t scratch() const {
        return 3 * (static_cast<std::size_t>(frequencies) + 1) * lane_count;
    }
};

}  // namespace boxroom
