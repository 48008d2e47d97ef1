#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [driver]; notes in the context whether it is known and absolute.
DriverSheet read_driver(TableReader& file, ReadContext& context);
/// [amplifier]
Amplifier read_amplifier(TableReader& file);

}  // namespace boxroom
