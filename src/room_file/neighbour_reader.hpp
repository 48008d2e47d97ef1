#pragma once
#include <vector>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [[block]]; boxes keep off those that stand low.
void read_blocks(TableReader& file, const ReadContext& context, RoomPlan& plan,
                 std::vector<KeepOut>& keep_outs);
/// [[space]]
void read_spaces(TableReader& file, const ReadContext& context, RoomPlan& plan);
/// [[opening]]. After the spaces. What is shut is no opening, but a door all the same: `doors` are
/// the middles, on the floor, of all that reach it.
void read_openings(TableReader& file, const ReadContext& context, RoomPlan& plan,
                   std::vector<Point>& doors);

}  // namespace boxroom
