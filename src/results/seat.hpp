#pragma once
#include <string>

#include "base/dial.hpp"
#include "base/point.hpp"

namespace boxroom {

struct Seat {
    std::string name;
    Point at;
    double weight = 1;
};

/// A place on the floor where no box may stand: a rectangle [m].
struct KeepOut {
    std::string name;
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
};

/// A sub placed by hand; `at` is its acoustic centre.
struct PlacedSub {
    std::string name;
    Point at;
    Dial dial = {};
    double volume = 0;  ///< net volume of its box where it is not that of [box] [m3]; 0: it is
};

}  // namespace boxroom
