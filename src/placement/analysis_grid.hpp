#pragma once
#include <vector>

#include "base/resolved_grid.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// The frequencies at which a room is analysed where the file names none: 48 an octave over
/// `analysed`, and as many more round the modes of a shut rectangle as their decay asks for, so
/// that no criterion moves by more than 0.05 dB when there are twice as many. Rooms whose modes are
/// not known (no rectangle) get the even points alone.
std::vector<double> analysis_grid(const Room& room, const Air& air, const Band& analysed,
                                  const Band& judged, const Fineness& fineness = {});

}  // namespace boxroom
