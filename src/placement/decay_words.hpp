#pragma once
#include <string>
#include <vector>

#include "solvers/plausible_decay.hpp"

namespace boxroom {

/// What to say where a room rings longer or shorter than any that was measured, with the mend: a
/// sentence or two each for modes below 100 Hz and for the decay at 125 Hz; empty where it is like
/// measured rooms. Too live is as wrong as too dead.
std::vector<std::string> decay_words(const PlausibleDecay& decay);

/// The gravest of these in one line of a picture, with the mend; empty where there is none.
std::string decay_note(const PlausibleDecay& decay);

}  // namespace boxroom
