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
    /// The corner that an L lacks, and what of the room's sides stays beside it.
    struct Missing {
        std::string width, length;  ///< empty: the room is a rectangle
        std::string rest_width, rest_length;
        bool right = false, back = false;
    } missing;
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
    std::string sub_name = "front left corner", sub_x;  ///< sub_x empty: near the left wall
    struct KeepOut {
        std::string name, x0, y0, x1, y1;
    };
    std::vector<KeepOut> keep_outs;
    std::string fs, qts, vas;
    std::string sd, re, qes, xmax, power;  ///< each may be empty
    std::string volume;                    ///< of the box to begin with
    bool imperial = false;
};

/// The answers as a commented room file that parse_room_file() accepts.
std::string asked_room_file(const RoomAnswers& answers);

}  // namespace boxroom
