#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "placement/scenario.hpp"
#include "survey/distribution.hpp"

namespace boxroom {

/// One of several names, with how often each is taken.
struct NamedChoice {
    std::vector<std::string> names;
    std::vector<double> weights;
};

/// What a surface is made of: a construction by name, or a coefficient of its own in every room.
struct SurfaceKind {
    NamedChoice construction;  ///< empty: `absorption`
    Distribution absorption;
};

/// A window or a door in one of the four walls.
struct PartKind {
    std::string construction;
    Distribution area;  ///< [m2]
};

/// How a house is built: all the surfaces of a room in it.
struct HouseKind {
    std::string name;
    double weight = 1;
    SurfaceKind walls, floor, ceiling;
    std::array<std::optional<SurfaceKind>, 4>
        wall;  ///< left, right, front, back, where they differ
    std::optional<PartKind> window, door;
};

struct DriverKind {
    std::string name;
    double weight = 1;
    Distribution fs, qts, vas;  ///< [Hz], 1, [m3]
};

/// Sofas: rows of seats across the room, the last one so far from the back wall.
struct SeatRows {
    Distribution rows, per_row, spacing, from_back, row_distance, height, rise, aside;
    int line = 1;  ///< of the table, for who finds that they fit nowhere
};

/// How rooms are spread: what `boxroom survey` reads.
struct Survey {
    std::string title;
    long long rooms = 0;
    std::uint64_t seed = 1;
    Distribution width, length, height;  ///< [m]
    double width_with_length = 0;        ///< correlation of the normal numbers behind both
    NamedChoice contents;
    double l_shaped = 0;                     ///< share of rooms that are no rectangles
    Distribution notch_width, notch_length;  ///< of the corner that is missing, as shares
    std::vector<HouseKind> houses;
    std::vector<DriverKind> drivers;
    SeatRows seats;
    std::vector<int> counts;        ///< numbers of subs to look at: [search] subs, 1 first
    std::optional<QtcSweep> sweep;  ///< of each room from above its driver's Qts; empty: volumes
    std::string box;                ///< the keys of [box] but for that
    std::string tables;             ///< those of a room file that are alike in every room, as TOML
    std::string source_text;        ///< the file
    std::string name;               ///< the file's, for messages
    double room_memory = 2e9;       ///< [bytes] what a thread may take for its room
};

}  // namespace boxroom
