#pragma once
#include "base/clock.hpp"

namespace boxroom {

/// What is still to go [s] where this share of the work is done since `start` (seconds_now()) and
/// the rest is as quick; < 0, not known, before anything is done.
inline double seconds_left(double start, double share) {
    return share > 0 ? (seconds_now() - start) * (1 - share) / share : -1;
}

}  // namespace boxroom
