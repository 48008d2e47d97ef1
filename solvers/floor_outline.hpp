#pragma once
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// The corners of the floor in order: of its plan, or of the rectangle, from the front left corner
/// along the front wall.
std::vector<Point> floor_outline(const Room& room);

/// From corner `edge` of an outline to the next [m].
double edge_length(const std::vector<Point>& outline, std::size_t edge);
/// Across that edge, out of the room; as long as it is.
Point outwards(const std::vector<Point>& outline, std::size_t edge);
/// Which of the four walls of a rectangle looks most like that edge.
WallIndex wall_of_edge(const std::vector<Point>& outline, std::size_t edge);

}  // namespace boxroom
