#pragma once
#include <string>
#include <vector>

#include "base/point.hpp"
#include "survey/survey.hpp"

namespace boxroom {

/// A window or a door as it was drawn.
struct DrawnPart {
    std::string construction;
    int wall = 0;     ///< WallIndex, left to back
    double area = 0;  ///< [m2]
};

/// One room of a survey, in SI, rounded to what a tape and a data sheet say.
struct DrawnRoom {
    long long number = 0;  ///< from 0
    double width = 0, length = 0, height = 0;
    std::vector<Point> outline;  ///< of an L, going round from x towards y; empty: a rectangle
    std::string contents;        ///< empty: not said
    std::size_t house = 0, driver = 0, contents_kind = 0;  ///< among those of the survey
    std::vector<std::string>
        surfaces;  ///< left, right, front, back, floor, ceiling, as TOML values
    std::vector<DrawnPart> parts;
    double fs = 0, qts = 0, vas = 0;
    int rows = 0, per_row = 0;
    std::vector<Point> seats;
    int redrawn = 0;  ///< how often the seats, then the room, were drawn anew until they fitted
};

/// The room of this number: the same whoever draws it, whenever. Seats that are nearer than 0.2 m
/// to a wall are drawn anew, up to 100 times, then the whole room, up to 50 times. Throws Error at
/// [seats] where even then they fit nowhere.
DrawnRoom draw_room(const Survey& survey, long long number);

}  // namespace boxroom
