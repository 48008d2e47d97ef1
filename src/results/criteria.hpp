#pragma once
#include <limits>

namespace boxroom {

/// The numbers a response is judged by; definitions in placement/criteria.hpp.
struct Criteria {
    double spread_db = 0;
    double largest_difference_db = 0;
    double unevenness_db = 0;
    double balance_db = 0;
    double level_db = 0;  ///< mean over the target band of the seat average
    double reach_hz = 0;
    /// NaN where the room's modes are not known (placement/ringing.hpp).
    double ringing_s = std::numeric_limits<double>::quiet_NaN();
    double score = 0;  ///< lower is better
};

}  // namespace boxroom
