#pragma once
#include "answers/inquiry.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// Puts the room into the state that is worse for the subs that the file places, as plan does.
/// Empty, and the room as it is, where it has one state or no sub is placed.
DayStates take_worse_day(Inquiry& inquiry, const ClosedBox& box);

/// Warns that openings that are `either` count as open, where that is so.
void warn_of_open_days(Inquiry& inquiry);

}  // namespace boxroom
