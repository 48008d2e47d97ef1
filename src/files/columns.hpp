#pragma once
#include <limits>
#include <vector>

#include "results/crossing.hpp"
#include "results/listening.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// In a cell of what was not worked out.
inline constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// A curve of T in dB, a value a frequency, once for all the files that hold it. One that is empty
/// was not worked out and is left out.
template <typename T>
struct CurveColumn {
    const char* csv;
    const char* dataset;
    const char* description;
    std::vector<double> T::*member;
    bool referred = false;  ///< the description goes on with what 0 dB is
};

inline constexpr CurveColumn<Listening> curve_columns[] = {
    {"seat_average_db", "seat_average", "power mean over the seats", &Listening::seat_average_db,
     true},
    {"half_space_db", "half_space", "the same sub at 1 m on an endless floor",
     &Listening::half_space_db, true},
    {"lift_db", "lift", "room gain: seat average less half space", &Listening::lift_db},
    {"target_db", "target", "target, drawn at the level of the response", &Listening::target_db},
    {"max_level_db", "max_level", "loudest clean seat average, one sine at a time, re 20 uPa",
     &Listening::max_level_db},
    {"half_space_max_level_db", "half_space_max_level",
     "the same subs at 1 m on an endless floor, re 20 uPa", &Listening::half_space_max_level_db}};

inline constexpr CurveColumn<Crossing> crossing_columns[] = {
    {"subs_average_db", "subs", "seat average of the subs through the low-pass",
     &Crossing::subs_db},
    {"mains_average_db", "mains", "seat average of the main loudspeakers through the high-pass",
     &Crossing::mains_db},
    {"sum_average_db", "sum", "seat average of both together", &Crossing::sum_db}};

/// A number of each box that was tried, likewise.
struct BoxColumn {
    const char* csv;      ///< with its unit
    double csv_factor;    ///< from SI to that unit
    const char* dataset;  ///< null for the three sides, which are one dataset
    const char* unit;
    const char* description;
    double (*of)(const BoxOption&);  ///< NaN where it is not known
};

inline constexpr BoxColumn box_columns[] = {
    {"qtc", 1, "qtc", "1", "total Q in the box", [](const BoxOption& b) { return b.qtc; }},
    {"net_volume_l", 1e3, "volume", "m3", "net volume",
     [](const BoxOption& b) { return b.volume; }},
    {"fc_hz", 1, "fc", "Hz", "resonance in the box", [](const BoxOption& b) { return b.fc; }},
    {"f3_hz", 1, "f3", "Hz", "-3 dB frequency in half space",
     [](const BoxOption& b) { return b.f3; }},
    {"outer_width_m", 1, nullptr, "m", "", [](const BoxOption& b) { return b.outer.width; }},
    {"outer_depth_m", 1, nullptr, "m", "", [](const BoxOption& b) { return b.outer.depth; }},
    {"outer_height_m", 1, nullptr, "m", "", [](const BoxOption& b) { return b.outer.height; }},
    {"half_space_balance_db", 1, "half_space_balance", "dB", "balance in half space",
     [](const BoxOption& b) { return b.half_space_balance_db; }},
    {"in_room_balance_db", 1, "in_room_balance", "dB", "balance at the chosen spot",
     [](const BoxOption& b) { return b.in_room_balance_db; }},
    {"loudest_db", 1, "loudest", "dB",
     "highest target curve it plays at the chosen spot, equalised, re 20 uPa",
     [](const BoxOption& b) {
         return b.limited_by.empty() ? std::numeric_limits<double>::quiet_NaN() : b.loudest_db;
     }}};

}  // namespace boxroom
