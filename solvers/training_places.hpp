#pragma once
#include <complex>
#include <span>
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// Places over the floor, so that the basis knows every resonance.
std::vector<Point> corner_places(const Room& room);

/// Some fifty places low over the floor, none of them near to the given ones.
std::vector<Point> floor_places(const Room& room, std::span<const Point> other);

/// The largest change of level, 20 lg |a/b|, where a is not 15 dB under its median.
double largest_change(const std::vector<std::complex<double>>& a,
                      const std::vector<std::complex<double>>& b);

}  // namespace boxroom
