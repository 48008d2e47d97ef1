#pragma once
#include <array>
#include <string>
#include <vector>

namespace boxroom {

/// What a dialogue has found out: quantities as text with their units ("13 ft 5 in", "38 L"), so
/// that the file says what its writer said.
struct RoomAnswers {
    std::string title = "My room";
    std::string width, length, height;
    std::array<std::string, 6> walls;  ///< names of constructions, in the order of wall_names
    struct Seat {
        std::string name, x, y, z;
    };
    std::vector<Seat> seats;
    std::string fs, qts, vas, sd;  ///< sd may be empty
    std::string volume;            ///< of the box to begin with
    bool imperial = false;
};

/// The answers as a commented room file that parse_room_file() accepts.
std::string asked_room_file(const RoomAnswers& answers);

}  // namespace boxroom
