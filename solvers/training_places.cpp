#include "solvers/training_places.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

constexpr double least_apart = 0.3;  ///< [m]

double distance(const Point& a, const Point& b) {
    return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

}  // namespace

std::vector<Point> corner_places(const Room& room) {
    std::vector<Point> places;
    for (const double x : {0.08, 0.92})
        for (const double y : {0.08, 0.92}) {
            const Point p{x * room.width, y * room.length, 0.1 * room.height};
            if (room.contains(p)) places.push_back(p);
        }
    return places;
}

std::vector<Point> floor_places(const Room& room, std::span<const Point> other) {
    std::vector<Point> places;
    for (int m = 0; m < 7; ++m)
        for (int n = 0; n < 7; ++n) {
            const Point p{(m + 0.5) / 7 * room.width, (n + 0.5) / 7 * room.length,
                          0.1 * room.height};
            const bool near = std::any_of(other.begin(), other.end(), [&](const Point& o) {
                return distance(o, p) < least_apart;
            });
            if (room.contains(p) && !near) places.push_back(p);
        }
    return places;
}

double largest_change(const std::vector<std::complex<double>>& a,
                      const std::vector<std::complex<double>>& b) {
    std::vector<double> size;
    for (const auto& z : a) size.push_back(std::abs(z));
    if (size.empty()) return 0;
    const auto middle = size.begin() + static_cast<long>(size.size() / 2);
    std::nth_element(size.begin(), middle, size.end());
    const double null = *middle * std::pow(10.0, -0.75);
    double worst = 0;
    for (std::size_t n = 0; n < a.size(); ++n)
        if (std::abs(a[n]) > null)
            worst = std::max(worst, std::abs(20 * std::log10(std::abs(a[n] / b[n]))));
    return worst;
}

}  // namespace boxroom
