#include "solvers/check_points.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/error.hpp"

namespace boxroom {

void check_in_room(const Room& room, std::span<const Point> points, const char* what) {
    for (const Point& p : points)
        if (!room.contains(p))
            throw Error("", std::string(what) + " lies outside the room or inside furniture",
                        "every point needs 0 <= x <= width, 0 <= y <= length, 0 <= z <= height");
}

void check_apart(std::span<const Point> sources, std::span<const Point> receivers) {
    constexpr double nearest = 0.02;  // [m]
    for (const Point& a : sources)
        for (const Point& b : receivers)
            if (std::max({std::abs(a.x - b.x), std::abs(a.y - b.y), std::abs(a.z - b.z)}) < nearest)
                throw Error("", "a source and a receiver are within 2 cm of each other",
                            "move one of them: a point source has infinite pressure at itself");
}

}  // namespace boxroom
