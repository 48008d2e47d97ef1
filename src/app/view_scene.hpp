#pragma once
#include "placement/scenario.hpp"
#include "results/room_view.hpp"

namespace boxroom {

/// What of the window's room does not move: walls, blocks, openings, keep-outs, the frequencies.
RoomView room_scene(const Scenario& scenario);

}  // namespace boxroom
