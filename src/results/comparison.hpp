#pragma once
#include <string>
#include <vector>

#include "results/criteria.hpp"

namespace boxroom {

/// What is known of one of two answers that are set beside each other.
struct ComparedAnswer {
    std::string name;                ///< as the user calls it, its file
    std::vector<double> average_db;  ///< over the comparison's frequencies
    Criteria criteria;
};

/// Two answers beside each other. F frequencies.
struct Comparison {
    std::vector<double> frequency;  ///< (F) [Hz], those of the first that the second spans too
    ComparedAnswer first, second;
    std::vector<double> difference_db;  ///< (F) second less first
    double largest_db = 0,
           largest_at_hz = 0;  ///< of the differences within the band, with its sign
    double rms_db = 0;         ///< over the band, over ln f
};

}  // namespace boxroom
