#pragma once
#include <vector>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [[block]]; boxes keep off those that stand low.
void read_blocks(TableReader& file, const ReadContext& context, RoomPlan& plan,
                 std::vector<KeepOut>& keep_outs);
/// [[space]]
void read_spaces(TableReader& file, const ReadContext& context, RoomPlan& plan);
/// [[opening]]. After the spaces.
void read_openings(TableReader& file, const ReadContext& context, RoomPlan& plan);

}  // namespace boxroom
