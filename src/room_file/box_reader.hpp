#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [box]: the box to listen to, those to try, and what shapes them. After the driver.
void read_box(TableReader& file, const ReadContext& context, Design& design);

}  // namespace boxroom
