#pragma once
#include "measured/recordings.hpp"
#include "room_file/read_context.hpp"

namespace boxroom {

/// The [[recording]]s and the [microphone]. Says what is wrong with them; the files they name are
/// looked at by whoever uses them.
Recordings read_recordings(TableReader& file, const ReadContext& context,
                           const std::vector<Seat>& seats, const std::vector<PlacedSub>& subs);

}  // namespace boxroom
