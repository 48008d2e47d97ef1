#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [build]: how the box is made. After the driver, the amplifier, [box] and [spots], whose
/// `tallest` (or the room's height) limits boxes that have no proportions of their own.
void read_build(TableReader& file, const ReadContext& context, double tallest, Design& design);

}  // namespace boxroom
