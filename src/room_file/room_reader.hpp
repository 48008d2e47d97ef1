#pragma once
#include <array>
#include <string>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [air]
Air read_air(TableReader& file);

/// A room and what comes with it.
struct ReadRoom {
    Room room;
    std::array<std::string, 6> wall_keys{"left", "right", "front", "back", "floor", "ceiling"};
    std::vector<KeepOut> keep_outs;  ///< under blocks
    std::vector<Point> doors;        ///< openings in walls that reach the floor, shut ones too
};

/// [room], [walls], and with them [[block]], [[space]] and [[opening]]. Notes in the context
/// whether the sides are known.
void read_room(TableReader& file, ReadContext& context, ReadRoom& read);

}  // namespace boxroom
