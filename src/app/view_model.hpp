#pragma once
#include "app/session.hpp"
#include "results/room_view.hpp"

namespace boxroom {

/// The room of a session as the window wants it, with the functions that work out the rest.
/// They keep references to the scenario and the driver.
RoomView make_room_view(const Scenario& scenario, const Driver& driver,
                        std::vector<std::string>& warnings);

}  // namespace boxroom
