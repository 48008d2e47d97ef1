#pragma once
#include <string>
#include <vector>

#include "results/ringing.hpp"

namespace boxroom {

/// <figure> of how long each note is heard at a seat: time against frequency, a shade for every 10
/// dB, before and after the equaliser side by side (one below the other on a telephone); the worst
/// notes marked. Empty without a picture. `words`: the sentence that stands above it.
std::string ringing_chart(const DecayPicture& picture, const std::vector<RingingNote>& notes,
                          const std::string& words);

}  // namespace boxroom
