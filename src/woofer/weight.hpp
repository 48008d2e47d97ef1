#pragma once
#include <string>
#include <vector>

#include "woofer/carcass.hpp"

namespace boxroom {

/// One thing of the finished box: its mass and where its middle is, in the box's own frame: x from
/// the middle to the right (seen from the front), y from the middle to the back, z from the floor.
struct Part {
    std::string name;
    double mass = 0;  ///< [kg]
    Point middle;     ///< [m]
};

/// The finished box on its feet.
struct Balance {
    std::vector<Part> parts;
    double mass = 0;
    Point centre;  ///< of gravity
    /// Angle by which it tips over its nearest bottom edge: atan(b/h), b the level distance from
    /// the centre of gravity to that edge, h its height.
    double tipping_angle = 0;  ///< [rad]
    std::string edge;          ///< "front", "back" or "side"
    /// Level push at the top edge that begins to tip it: m g b/H, g = 9.81 m/s2.
    double tipping_push = 0;  ///< [N]
};

/// Weighs the box: panels by the board's density with their holes out, driver in the middle of its
/// panel, amplifier in the lower half of the back, filling in the middle.
Balance weigh(const Carcass& box, const EnclosureRules& rules, const BuildRules& build,
              double driver_mass, double amplifier_mass, double filling_mass,
              std::optional<double> cut_out);

}  // namespace boxroom
