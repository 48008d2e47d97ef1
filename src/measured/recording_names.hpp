#pragma once
#include "measured/recordings.hpp"

namespace boxroom {

/// Whose recording it is: the seat, or the seat that the box stood on, or the file.
std::string recording_place(const Recording& recording);

/// The same, and what played: "sofa, left, sub 1".
std::string recording_title(const Recording& recording);

}  // namespace boxroom
