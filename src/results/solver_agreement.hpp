#pragma once
#include <string>
#include <vector>

#include "results/criteria.hpp"

namespace boxroom {

/// How far two solvers of the same room lie apart. Deep nulls (more than 15 dB under the seat's
/// median) do not count: there a hair's breadth in frequency is many decibels.
struct SolverAgreement {
    struct At {
        std::string seat;
        double largest_db = 0;   ///< of the difference in level, either way
        double largest_hz = 0;   ///< where that is
        double rms_db = 0;       ///< over the frequencies that count
        double largest_deg = 0;  ///< of the difference in phase
    };
    double up_to = 0;  ///< highest frequency compared [Hz]
    std::vector<At> seats;
    At all;                  ///< over all seats; `seat` is the one with the largest difference
    double spacing = 0;      ///< of the grid [m]
    Criteria first, second;  ///< what each of the two says
    bool known() const { return !seats.empty(); }
};

}  // namespace boxroom
