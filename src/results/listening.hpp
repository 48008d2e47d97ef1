#pragma once
#include <complex>
#include <string>
#include <vector>

#include "base/by_frequency.hpp"
#include "results/criteria.hpp"
#include "results/seat.hpp"

namespace boxroom {

/// What the placed subs do at the seats. F frequencies, S seats, Q subs.
struct Listening {
    std::vector<double> frequency;  ///< [Hz]
    std::vector<Seat> seats;
    std::vector<PlacedSub> subs;
    ByFrequency<std::complex<double>> transfer_impedance;  ///< (F,S,Q) [Pa s/m3]
    ByFrequency<std::complex<double>> volume_velocity;     ///< (F,Q) [m3/s], settings included
    /// What the room's pressure on the cones does to them (F,Q); empty where it is not counted.
    ByFrequency<double> cone_load_db;
    ByFrequency<double> level_db, phase_deg;                                 ///< (F,S)
    std::vector<double> seat_average_db, half_space_db, lift_db, target_db;  ///< (F)
    /// Loudest clean level, one sine at a time (F): at the seats (power mean) and for the same subs
    /// at 1 m on an endless floor, dB re 20 uPa; what runs out first. Empty where unknown.
    std::vector<double> max_level_db, half_space_max_level_db;
    std::vector<std::string> limited_by;
    Criteria criteria;
    bool absolute = false;  ///< dB re 20 uPa at 2.83 V, else dB re the passband at 1 m half space
};

}  // namespace boxroom
