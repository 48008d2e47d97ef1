#pragma once
#include <cstdint>

namespace boxroom {

struct Colour {
    std::uint8_t r = 0, g = 0, b = 0;
    friend bool operator==(const Colour&, const Colour&) = default;
};

/// A place in a picture [px]: x to the right, y downwards, (0, 0) the upper left corner.
struct Pixel {
    double x = 0, y = 0;
};

struct Stroke {
    Pixel from, to;
};

/// A rectangle [px]: corners (x, y) and (x + width, y + height).
struct Rectangle {
    double x = 0, y = 0, width = 0, height = 0;
    double right() const { return x + width; }
    double bottom() const { return y + height; }
    bool overlaps(const Rectangle& other) const {
        return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
    }
    bool holds(const Rectangle& other) const {
        return other.x >= x && other.y >= y && other.right() <= right() &&
               other.bottom() <= bottom();
    }
    Rectangle grown(double by) const { return {x - by, y - by, width + 2 * by, height + 2 * by}; }
};

}  // namespace boxroom
