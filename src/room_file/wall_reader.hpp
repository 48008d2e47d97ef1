#pragma once
#include <optional>
#include <string>

#include "room_file/read_context.hpp"

namespace boxroom {

/// Reads the wall `key` of a table: a named construction, { absorption = }, a branch { resistance
/// =, mass =, stiffness = }, an array of branches in parallel, or a wall of parts (mean_wall): an
/// array in which anything is a name or has an area, { made_of = "solid door", area = "1.8 m2" }.
/// `area` [m2] is the wall's; 0: not known, for the room is at fault; none: no such surface has
/// parts.
NamedWall read_wall(TableReader& table, const std::string& key, std::optional<double> area,
                    const ReadContext& context);

}  // namespace boxroom
