#pragma once
#include <array>
#include <optional>

#include "base/sides.hpp"
#include "woofer/displacement.hpp"

namespace boxroom {

/// What stands in the air of a box.
struct Bodies {
    Estimate driver, amplifier;     ///< [m3]
    std::optional<double> bracing;  ///< [m3]; where empty it follows from the braces and cleats
    int braces = 1;                 ///< window braces parallel to the driver's panel
    bool cleats = true;             ///< strips in the four corners that run the box's depth
};

/// How a net volume becomes a box that stands on the floor.
struct EnclosureRules {
    double thickness = 0.019;     ///< panel [m]
    double extra_volume = 0.003;  ///< driver, amplifier and bracing [m3], unless itemised
    bool itemised = false;        ///< the extra volume is the sum of `bodies`
    Bodies bodies;
    double proportion_width = 1.05, proportion_height = 1.2, proportion_depth = 1;  ///< inside
    double tallest = 1e9;       ///< top above the floor [m]: a box too tall gets wider and deeper
    bool double_front = false;  ///< a second layer on the driver's panel
    double feet = 0.0;          ///< box bottom above the floor [m]
    Facing facing = Facing::inward;
    std::optional<double> cut_out;       ///< diameter of the driver's hole, if known [m]
    std::optional<double> driver_depth;  ///< behind the front of its panel, if known [m]
    std::optional<std::array<double, 2>> amplifier_cut_out;  ///< width, height in the back [m]
};

/// Volume inside the panels: net + driver + amplifier + bracing [m3]. Bracing follows from the
/// sides, which follow from the volume: solved by iteration, to round-off.
/// Throws Error for a volume <= 0 or impossible rules.
double inner_volume(double net_volume, const EnclosureRules& rules);

/// Sides inside the panels for this inner volume, in the given proportion; where that is taller
/// than `tallest`, that height and the rest shared between width and depth.
Sides inner_sides(double inner_volume, const EnclosureRules& rules);

/// The outer box round these inner sides: two panels a side, three where the front is double.
Sides outer_sides(const Sides& inner, const EnclosureRules& rules);

/// Outer size for a net volume. Throws Error for a volume <= 0.
Sides enclosure(double net_volume, const EnclosureRules& rules);

/// Volume of cleats and braces in a box of these inner sides [m3] (or as given).
double bracing(const Sides& inner, const EnclosureRules& rules);

/// Diameter of the driver's hole [m]: as given, or 1.15 times the effective cone diameter 2
/// sqrt(Sd/pi) (common practice: cut-outs are 1.1 to 1.2 of it). Empty where neither is known.
std::optional<double> driver_cut_out(const EnclosureRules& rules, std::optional<double> sd);

/// Whether the panel the driver sits in takes its cut-out, and the box its width: inner sides of at
/// least the cut-out. True where the cut-out is not known.
bool holds_driver(const Sides& box, const EnclosureRules& rules, std::optional<double> sd);

constexpr double behind_magnet = 0.02;  ///< air a driver wants behind its magnet [m]

/// Room left behind a driver of known depth [m]; negative where it does not go in.
std::optional<double> depth_left(const Sides& inner, const EnclosureRules& rules);

/// All that goes into the box fits: holds_driver(), air behind the magnet, the amplifier's hole in
/// the back. `plan` recommends no other box.
bool can_be_built(const Sides& box, const EnclosureRules& rules, std::optional<double> sd);

/// Cone centre for a box whose footprint is centred at (x, y), sides along the room's axes, driver
/// in the middle of the panel that looks to `facing` (not inward: the caller resolves that). Down-
/// and up-firing: bottom/top panel.
Point acoustic_centre(double x, double y, const Sides& box, double feet, Facing facing);

}  // namespace boxroom
