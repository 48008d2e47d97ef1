#pragma once
#include "base/point.hpp"

namespace boxroom {

/// The wall the driver looks at; `inward` = away from the wall nearest to the box.
enum class Facing { inward, left, right, front, back, up, down };

/// How a net volume becomes a box that stands on the floor.
struct EnclosureRules {
    double thickness = 0.019;     ///< panel [m]
    double extra_volume = 0.003;  ///< driver, amplifier and bracing [m3]
    double proportion_width = 1, proportion_height = 1.1, proportion_depth = 1;  ///< inside
    double feet = 0.0;  ///< box bottom above the floor [m]
    Facing facing = Facing::inward;
};

struct Enclosure {
    double width = 0;   ///< outer, along x [m]
    double depth = 0;   ///< outer, along y [m]
    double height = 0;  ///< outer, along z, without feet [m]
};

/// Outer size: inner sides in the given proportion, inner volume = net + extra, plus two panels a
/// side. Throws Error for a volume <= 0.
Enclosure enclosure(double net_volume, const EnclosureRules& rules);

/// Whether the panel the driver sits in takes its cut-out: inner sides of at least 1.15 times the
/// effective cone diameter 2 sqrt(Sd/pi) (common practice: cut-outs are 1.1 to 1.2 of it).
bool holds_driver(const Enclosure& box, const EnclosureRules& rules, double sd);

/// Cone centre for a box whose footprint is centred at (x, y), driver in the middle of the panel
/// that looks to `facing` (not inward: the caller resolves that). Down- and up-firing: bottom/top
/// panel.
Point acoustic_centre(double x, double y, const Enclosure& box, double feet, Facing facing);

}  // namespace boxroom
