#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/point.hpp"

namespace boxroom {

/// One [[recording]] of the room file.
struct Recording {
    std::string name;                 ///< for messages: its file, as the room file says it
    Point at;                         ///< of the microphone
    std::optional<std::string> seat;  ///< whose place that is
    std::optional<std::string> sub;   ///< what played; none: all subs together
    /// The sub stood at this seat and the microphone where a box may come: by reciprocity the
    /// response of that spot at that seat.
    std::optional<std::string> box_on_seat;
    std::filesystem::path sound, curve;  ///< one of the two; relative ones from the room file
    int channel = 1;
};

/// [microphone].
struct Microphone {
    std::filesystem::path calibration;  ///< empty: none
    bool absolute = false;              ///< levels of curves are dB re 20 uPa
};

struct Recordings {
    std::vector<Recording> all;
    Microphone microphone;
};

}  // namespace boxroom
