#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "placement/set_kernel.hpp"

namespace boxroom {

inline constexpr int most_subs = 4;

/// What may stand beside what, and which spots are each other's mirror images.
struct SetRules {
    std::vector<std::uint8_t> clash;  ///< [i * size + j]: two boxes that cannot both stand there
    std::vector<std::uint8_t> first;  ///< spots a set may begin with; the rest are mirror images
    std::vector<int> cell;            ///< neighbouring spots share one; lists show one set a cell
    bool symmetric = false;           ///< `first` leaves some out
};

struct FoundSet {
    std::array<int, most_subs> spot{-1, -1, -1, -1};  ///< rising; the kernel's numbers
    float spread_db = 0, unevenness_db = 0, balance_db = 0, level_db = 0;
    /// Weighted sum of the parts; level counts from 0 dB, so only differences mean anything.
    float score = 0;
};

struct SetSearchOptions {
    double budget = 8e9;  ///< seat-frequency points for looking at every set; above it, exchange
    int keep = 400;       ///< best sets of different cells to return
    int starts = 256;     ///< of the exchange
    std::uint64_t seed = 1;
    bool front = true;  ///< whether that is asked for too: sets far from the best may be on it
};

struct SetSearch {
    std::vector<FoundSet> best;    ///< by score, one for each combination of cells
    std::vector<FoundSet> front;   ///< not beaten in spread, unevenness and level by a visible step
    bool exhaustive = false;       ///< every set was looked at, so the first is proven best
    double evaluations = 0;        ///< seat-frequency points
    int starts = 0, arrivals = 0;  ///< exchange: how many of the starts ended at the best set
    int coarse_spots = 0;          ///< exchange: every set of this many spread-out spots was tried
    bool coarse_found_better = false;  ///< ... and gave a better set than the exchange
    std::string method;                ///< in words
};

/// The best sets of `subs` spots by w1 spread + w2 unevenness + w3 balance - w4 level.
///
/// Looks at every set where that fits the budget. Else exchange (the interchange heuristic of Teitz
/// & Bart, Operations Research 16(5) 1968): from many random sets one spot at a time is moved to
/// the best of all places, until no move helps; and every set of a thinned floor is looked at
/// besides, as a check. The answer does not depend on the number of threads. Throws Error if there
/// is no set of spots whose boxes do not touch.
SetSearch search_sets(const SetKernel& kernel, const SetRules& rules, const ScoreWeights& weights,
                      int subs, const SetSearchOptions& options = {});

}  // namespace boxroom
