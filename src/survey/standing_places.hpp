#pragma once
#include <array>
#include <vector>

#include "placement/standing.hpp"

namespace boxroom {

/// Whether the box stands in a corner: its nearest two sides within 0.10 m of where [spots] gap
/// lets it stand in one, of the rectangle or of an outline that goes round from x towards y. A
/// corner that juts into the room is none.
bool stands_in_corner(const Scenario& scenario, const BoxStanding& box);

/// Which wall it stands at the middle of: against it as above, its centre within an eighth of the
/// wall's length of the wall's middle; -1: none. In rectangles; -1 elsewhere.
int wall_of_middle(const Scenario& scenario, const BoxStanding& box);
/// Whether two of them stand at the middles of opposite walls.
bool have_opposite_middles(const Scenario& scenario, const std::vector<BoxStanding>& boxes);

/// A box at the middle of each wall, and in each corner, one gap off the walls, in a rectangle:
/// left, right, front, back; front left, front right, back left, back right. Whatever stands there.
std::array<BoxStanding, 4> wall_middles(const Scenario& scenario, double volume);
std::array<BoxStanding, 4> room_corners(const Scenario& scenario, double volume);

/// Mean of the surfaces' random-incidence absorption at f [Hz] by area; contents left out.
double mean_absorption(const Room& room, const Air& air, double frequency);

}  // namespace boxroom
