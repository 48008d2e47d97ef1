#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [equaliser]: whether there is one, and the filters that all subs share.
void read_equaliser(TableReader& file, Scenario& scenario);

}  // namespace boxroom
