#pragma once
#include <string>

#include "base/units.hpp"
#include "measured/room_fit.hpp"

namespace boxroom {

/// What the fit found of furniture that the file lacks, in one or two sentences; or that it found
/// none; or that it did not look, and why.
std::string furniture_words(const RoomFit& fit, Units units);

}  // namespace boxroom
