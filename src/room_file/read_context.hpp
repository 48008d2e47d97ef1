#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"
#include "room_file/toml_reader.hpp"

namespace boxroom {

/// What written lengths may differ by and be the same [m].
inline constexpr double rounding = 1e-6;
inline const Limits audible{1, 1000, "between 1 Hz and 1000 Hz"};
inline const Limits net_volume{1e-4, 10, "between 0.1 L and 10 000 L"};

/// What the readers of a file's tables share: where faults go, and what was read before them. The
/// flags say whether that was right, so that one fault is not told twice.
struct ReadContext {
    FaultList& faults;
    std::vector<std::string>& warnings;
    const Air& air;
    const Room& room;
    const DriverSheet& driver;
    const Amplifier& amplifier;
    bool room_known = false;       ///< the room's sides
    bool driver_known = false;     ///< fs, Qts and Vas
    bool driver_absolute = false;  ///< as Driver::absolute()
};

}  // namespace boxroom
