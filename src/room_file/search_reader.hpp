#pragma once
#include "room_file/read_context.hpp"

namespace boxroom {

/// [search]: how many subs, of which volumes.
void read_search(TableReader& file, Wanted& wanted);
/// [settings]: what can be dialled in.
SettingSteps read_settings(TableReader& file);
/// [robustness]: how wrong the file may be.
Uncertainty read_robustness(TableReader& file);

}  // namespace boxroom
