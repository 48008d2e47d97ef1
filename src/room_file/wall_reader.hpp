#pragma once
#include "room_file/toml_reader.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// Reads the wall `name` of a table into `wall` and, in words, `words`. True if it is good.
bool read_wall(TableReader& walls, const std::string& name, const Air& air, Wall& wall,
               std::string& words, FaultList& faults);

/// Reads the six walls of [walls] into `room`: a named construction, { absorption = }, a branch
/// { resistance =, mass =, stiffness = } or an array of branches in parallel. True if all are good.
bool read_walls(TableReader& walls, const Air& air, Room& room, FaultList& faults);

}  // namespace boxroom
