#pragma once
#include <array>
#include <string>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [room] floor_plan: the corners in order; width and length become those of the rectangle round
/// them. False where they are no floor.
bool read_outline(TableReader& table, const ReadContext& context, Room& room);
/// [walls] of a floor plan: edges by name (`edges` serves all that have no line of their own),
/// floor and ceiling.
void read_edges(TableReader& walls, const ReadContext& context, Room& room);
/// A floor plan that is a rectangle is one: its edges become the four walls. `keys` keeps what the
/// file calls them.
void outline_to_rectangle(Room& room, std::array<std::string, 6>& keys);

}  // namespace boxroom
