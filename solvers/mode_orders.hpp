#pragma once
#include <span>

#include "solvers/free_oscillations.hpp"

namespace boxroom {

/// Names the modes of a rectangle with openings after those of the rigid, closed one: the order of
/// the product of cosines that has the greatest part of the mode's shape in the room (Kuttruff,
/// Room Acoustics, sec. 3.1), (0, 0, 0) where the air in the openings swings on the room's spring.
/// Two modes may have one name: one of the room, and one of a space, which is `next_door` where
/// less than half of its energy is in the room.
void name_orders(const Room& room, std::span<FreeOscillation> modes);

}  // namespace boxroom
