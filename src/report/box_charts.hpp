#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "report/curve_chart.hpp"
#include "woofer/drive.hpp"

namespace boxroom {

/// How a box is called beside others: "22 L, Qtc 0.71".
std::string box_title(const ClosedBox& box, Units units);

/// Boxes of one driver over each other, F3 or the resonance marked: response and group delay
/// (Small, JAES 20(10) 1972), pressure after a step, and, where the sheet says enough, the cone's
/// travel at the amplifier's full voltage and the impedance (as `drive_ceiling`). The charts' ids
/// are names for files.
std::vector<CurveChart> box_charts(const Driver& driver, const Amplifier& amplifier, const Air& air,
                                   std::span<const ClosedBox> boxes, Units units);

}  // namespace boxroom
