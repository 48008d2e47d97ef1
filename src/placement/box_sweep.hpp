#pragma once
#include <numbers>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

inline constexpr double textbook_qtc = 1 / std::numbers::sqrt2;  ///< maximally flat (Small 1972)

/// The boxes to try, by rising Qtc, which is falling volume: the volumes or the Qtc of the file's
/// sweep, else from just above Qts to 1.2; the textbook's Qtc is among them where it lies within.
/// Throws Error where the driver's Qts is above the whole sweep.
std::vector<ClosedBox> boxes_to_try(const Scenario& scenario, const Driver& driver);

}  // namespace boxroom
