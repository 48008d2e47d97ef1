#pragma once
#include <array>
#include <string>
#include <vector>

namespace boxroom {

/// A note that hangs on at a seat after the sound has stopped (placement/ringing.hpp).
struct RingingNote {
    std::array<int, 3> order{};  ///< of the mode
    double frequency = 0;        ///< [Hz]
    double decay_time = 0;       ///< 60 dB [s]
    double threshold = 0;        ///< above which listeners notice [s]
    std::string seat;            ///< where the mode is loudest against the seat average
    double level_db = 0;         ///< of the mode by itself there
    bool in_band = false;        ///< within the target band, which is the sub's own work
};

/// How long a short burst of each note is heard at one seat, before and after the equaliser.
/// Heights are relative to the seat's mean level over the target band, so that an equaliser that
/// takes a mode down shortens what is heard of it.
struct DecayPicture {
    std::string seat;
    std::vector<double> frequency;  ///< (F) [Hz]
    std::vector<double> below_db;   ///< (K) 10, 20, ...: so far under the mean
    /// (K)(F) time after the burst's middle from which on it stays that far under the mean [s]; 0
    /// where it never was above.
    std::vector<std::vector<double>> before, after;  ///< after: empty without an equaliser
    double longest = 0;                              ///< that was looked at [s]
    bool known() const { return !before.empty(); }
};

}  // namespace boxroom
