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
    struct Wall {
        std::string construction;  ///< its name
        std::string window, door;  ///< their areas; empty: none
    };
    std::array<Wall, 6> walls;  ///< in the order of wall_names
    std::string contents = "furnished";
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
