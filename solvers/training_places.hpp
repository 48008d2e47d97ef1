#pragma once
#include <complex>
#include <functional>
#include <span>
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// Places over the floor, so that the basis knows every resonance.
std::vector<Point> corner_places(const Room& room);

/// Some fifty places low over the floor, none of them near to the given ones.
std::vector<Point> floor_places(const Room& room, std::span<const Point> other);

/// The middle of the gap between sorted angles that holds most modes: of a room's modes more lie
/// above.
double widest_gap(const std::vector<double>& angles, const std::function<double(double)>& at);

/// The largest change of level, 20 lg |a/b|, where a is not 15 dB under its median.
double largest_change(const std::vector<std::complex<double>>& a,
                      const std::vector<std::complex<double>>& b);

}  // namespace boxroom
