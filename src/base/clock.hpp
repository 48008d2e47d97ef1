#pragma once
#include <chrono>
#include <map>
#include <string>

namespace boxroom {

using Timings = std::map<std::string, double>;  ///< phase -> seconds

/// Seconds since some moment that stays the same while the program runs: for differences.
inline double seconds_now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

}  // namespace boxroom
