#pragma once
#include <vector>

#include "solvers/modal.hpp"

namespace boxroom {

/// Free oscillations of a rectangle with its walls, contents and openings up to `highest` Hz,
/// sorted by frequency: also those that live next door, and the lowest, in which the air of the
/// openings swings on the spring of the rooms (order 0 0 0; Helmholtz' resonance).
///
/// With Z(w) between the ports of the openings and Y(w) what these take (solvers/ports.hpp) they
/// are the zeros of D(w) = det(1 + Z Y), whose poles are the shut rooms' modes. All are sought at
/// once, by Newton's method on D times its poles with mutual repulsion (Aberth, Math. Comp. 27,
/// 1973), each from the shut room's mode whose order it keeps: an opening mixes modes, so that the
/// order is where it came from, not what it looks like. Without openings the same as room_modes.
/// Throws Error for a room that is no rectangle, NumericalFailure where a root is not found.
std::vector<Mode> open_room_modes(const Room& room, const Air& air, double highest);

}  // namespace boxroom
