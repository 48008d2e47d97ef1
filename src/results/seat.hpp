#pragma once
#include <string>
#include <vector>

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

/// Where seats, subs or whatever else has an `at` are, in their order.
template <typename Placed>
std::vector<Point> places_of(const std::vector<Placed>& all) {
    std::vector<Point> places;
    for (const Placed& one : all) places.push_back(one.at);
    return places;
}

}  // namespace boxroom
