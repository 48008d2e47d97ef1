#pragma once
#include <array>

namespace boxroom {

/// Areas of the six walls of a cuboid [m2], in the order of WallIndex.
inline std::array<double, 6> wall_areas(double width, double length, double height) {
    return {length * height, length * height, width * height,
            width * height,  width * length,  width * length};
}

}  // namespace boxroom
