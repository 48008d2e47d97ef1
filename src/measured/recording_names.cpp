#include "measured/recording_names.hpp"

namespace boxroom {

std::string recording_place(const Recording& recording) {
    if (recording.box_on_seat) return "box on " + *recording.box_on_seat;
    return recording.seat ? *recording.seat : recording.name;
}

std::string recording_title(const Recording& recording) {
    const std::string place = recording_place(recording);
    return recording.sub ? place + ", " + *recording.sub : place;
}

}  // namespace boxroom
