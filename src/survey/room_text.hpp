#pragma once
#include <string>

#include "survey/drawn_room.hpp"

namespace boxroom {

/// A drawn room as the room file that `plan` reads: what was drawn, and the survey's own tables.
/// The survey reads its rooms from here too, so both see the same room.
std::string room_text(const Survey& survey, const DrawnRoom& room);

}  // namespace boxroom
