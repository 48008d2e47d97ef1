#pragma once
#include <array>
#include <string>

#include "base/air.hpp"
#include "base/point.hpp"
#include "solvers/wall.hpp"

namespace boxroom {

/// Order of the six walls everywhere: left/right are x = 0/width, front/back y = 0/length,
/// floor/ceiling z = 0/height.
enum WallIndex { left_wall, right_wall, front_wall, back_wall, floor_wall, ceiling_wall };
inline constexpr std::array<const char*, 6> wall_names{"left", "right", "front",
                                                       "back", "floor", "ceiling"};

/// A rectangular room with six uniform walls.
struct Room {
    double width = 0, length = 0, height = 0;  ///< x, y, z [m]
    std::array<Wall, 6> walls;
    std::array<std::string, 6> wall_description;  ///< as the file says it
    double volume() const { return width * length * height; }
    bool contains(const Point& p) const {
        return p.x >= 0 && p.y >= 0 && p.z >= 0 && p.x <= width && p.y <= length && p.z <= height;
    }
};

}  // namespace boxroom
