#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [driver], or several [[driver]]s to choose from, each with a name: the first is the design's
/// until one is chosen. Notes in the context whether it is known and absolute.
void read_drivers(TableReader& file, ReadContext& context, Design& design);
/// [box] driver: the one of several that the file has chosen already.
void choose_named_driver(TableReader& box, const std::string& name, Design& design);
/// [amplifier]
Amplifier read_amplifier(TableReader& file);

}  // namespace boxroom
