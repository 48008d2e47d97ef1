#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "results/seat.hpp"

namespace boxroom {

/// Values on a regular grid over the floor plan, with all that is needed to draw it.
struct FloorMap {
    std::string name;      ///< file stem: "spread_by_spot"
    std::string title;     ///< "Seat-to-seat spread, by where the box stands"
    std::string quantity;  ///< "spread", for the scale
    std::string unit = "dB";
    bool low_is_good = false;
    double room_width = 0, room_length = 0;  ///< [m]
    double x0 = 0, y0 = 0, dx = 0, dy = 0;   ///< first point and spacing [m]
    int nx = 0, ny = 0;
    std::vector<double> value;        ///< [iy * nx + ix]; 0 where not valid
    std::vector<std::uint8_t> valid;  ///< same shape; 0: no box can stand here
    std::vector<Seat> seats;
    std::vector<PlacedSub> subs;  ///< subs or the recommended place, drawn as marks
    std::vector<KeepOut> keep_outs;
};

}  // namespace boxroom
