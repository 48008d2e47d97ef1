#pragma once
#include <vector>

#include "placement/scenario.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// The scenario on the days that a room knows: with every opening open that is `either`, and with
/// all of these shut, where the wall goes on as it is named. One, as it is, where no opening is
/// either.
std::vector<Scenario> states_of(const Scenario& scenario);

/// "open" and "shut": the states in the order of states_of().
const char* state_name(std::size_t state);

/// What these subs do in each of the states, and which is the worse one: by the score against the
/// louder of them, the first of equals. Without criteria where there is one state.
DayStates day_states(const std::vector<Scenario>& states, const Driver& driver,
                     const ClosedBox& box, const std::vector<PlacedSub>& subs);

}  // namespace boxroom
