#pragma once
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "measured/fit_parameters.hpp"
#include "measured/heard_curve.hpp"
#include "measured/interval.hpp"
#include "measured/recording_timing.hpp"

namespace boxroom {

/// What a measured room is asked.
struct FitQuestion {
    const Scenario& scenario;
    const Driver& driver;
    const ClosedBox& box;
    std::vector<HeardCurve> heard;  ///< on fit_grid()
    std::function<void(const std::string& phase, double share)> progress;
    bool look_for_furniture = true;  ///< in a rectangle: several times the time of the rest
};

struct FittedParameter {
    FitParameter::Kind kind;
    std::string name, unit;
    Interval prior, found;    ///< 90 %
    double doubt = 0;         ///< half of what was found, in the unit or in the logarithm
    bool told_apart = false;  ///< the data have halved its doubt, at least
};

/// RMS between measured and predicted over the target band, both smoothed over 1/12 octave, with
/// the best constant taken out unless the microphone is absolute [dB].
struct SeatMisfit {
    std::string name;
    double before_db = 0, after_db = 0;
};

/// What lies between a recording and the model, whatever the room.
struct FoundRecording {
    double gain_db = 0;                     ///< measured less predicted; 0 where absolute
    std::optional<RecordingTiming> timing;  ///< where its phase tells
};

/// One more measurement: what share of the doubt about the seats' levels it would take away.
struct NextMeasurement {
    Point at;
    std::string sub;
    double share = 0;
};

struct FoundFurniture {
    Block block;
    int wall = 0;  ///< that it stands against (WallIndex)
};

struct RoomFit {
    FitState state;  ///< the room at its likeliest
    std::vector<FittedParameter> parameters;
    std::vector<SeatMisfit> seats;
    std::vector<SeatMisfit> left_out;  ///< each seat predicted by a fit to all others
    /// Parameters of which only the sum is known, at least one of them not told apart.
    std::vector<std::pair<std::string, std::string>> entangled;
    double discrepancy_db = 0;  ///< one standard deviation of what the model leaves out
    std::vector<FoundRecording> recordings;                ///< (R)
    std::vector<std::vector<double>> before_db, after_db;  ///< (R)(F), gain included, not smoothed
    std::vector<std::vector<double>> doubt_db;  ///< (R)(F), one standard deviation of after_db
    NextMeasurement next;
    bool settled = false;
    std::vector<std::string> remarks;  ///< sentences: another room, missing furniture
    /// What seems to stand there and the file lacks; it is in `state` as well.
    std::optional<FoundFurniture> furniture;
    bool furniture_looked_for = false;  ///< only in a rectangle with nothing in it
};

/// 48 an octave, a third of an octave beyond the target band on both sides where it is analysed.
std::vector<double> fit_grid(const Scenario& scenario);

/// The likeliest room (maximum a posteriori): least squares on the level of every recording,
/// smoothed over 1/12 octave, whose gain is free, and on the priors of FitParameters. The weight of
/// a point is its noise and what the model leaves out (Kennedy & O'Hagan, JRSS B 63, 2001, with one
/// standard deviation for all), which the residuals tell in rounds (discrepancy_of). The
/// posterior's spread is that of the linearised problem (Wulbusch, Roden, Blau &
/// Chernov 2023 solve for wall impedances in the same way, by sampling). In a rectangle with
/// nothing in it a piece of furniture may be found that the file lacks (find_furniture); it is kept
/// where it helps seats that were left out. Throws Error where nothing of a recording lies in the
/// band.
RoomFit fit_room(const FitQuestion& question);

/// About how long fit_room() takes on this machine [s], in a room that is a rectangle: the slopes
/// of its levels and a look for the next measurement, timed, times how many of each are usual.
/// Throws Error as fit_room() does.
double fit_seconds(const FitQuestion& question);

}  // namespace boxroom
