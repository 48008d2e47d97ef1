#pragma once
#include <filesystem>
#include <functional>
#include <span>
#include <string>

#include "measured/heard_curve.hpp"

namespace boxroom {

/// The text of a file that a room file names. Throws Error where there is none.
using ReadTable = std::function<std::string(const std::filesystem::path&)>;

/// heard_curve() of a recording that is a curve, wherever the texts of files come from.
HeardCurve heard_table(const Recording& recording, const Microphone& microphone,
                       std::span<const double> frequency, const ReadTable& read);

/// Adds the microphone's correction. Throws Error where nothing of the curve can be trusted.
void correct_heard(HeardCurve& heard, const Microphone& microphone, const ReadTable& read);

}  // namespace boxroom
