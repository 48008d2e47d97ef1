#pragma once

namespace boxroom {

/// A place in the room [m]: x from the left wall, y from the front wall, z from the floor.
struct Point {
    double x = 0, y = 0, z = 0;
    friend bool operator==(const Point&, const Point&) = default;
};

}  // namespace boxroom
