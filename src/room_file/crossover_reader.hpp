#pragma once
#include <optional>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [crossover]; none where the file has no such table.
std::optional<Crossover> read_crossover(TableReader& file);
/// [[main]]. After the driver.
std::vector<MainSpeaker> read_mains(TableReader& file, const ReadContext& context);

}  // namespace boxroom
