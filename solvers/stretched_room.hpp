#pragma once
#include <array>

#include "solvers/room.hpp"

namespace boxroom {

/// Factors on all lengths along x, y, z, the corner of the first walls staying where it is.
using Stretch = std::array<double, 3>;
inline constexpr Stretch no_stretch{1, 1, 1};

/// What makes of one room's sides another's.
Stretch stretch_between(const Room& from, const Room& to);

Point stretched(const Point& p, const Stretch& by);

/// The room with its sides, the corners of its floor, blocks, openings and spaces moved alike.
Room stretched(Room room, const Stretch& by);

}  // namespace boxroom
