#pragma once
#include <span>

#include "solvers/room.hpp"

namespace boxroom {

/// What every solver asks of its points: throws Error for one outside the room or inside furniture.
/// `what` names it in the message, as in "a source".
void check_in_room(const Room& room, std::span<const Point> points, const char* what);

/// Throws Error for a receiver within 2 cm of a source along every axis: a point source has
/// infinite pressure at itself, and what a grid makes of it depends on its cells alone.
void check_apart(std::span<const Point> sources, std::span<const Point> receivers);

}  // namespace boxroom
