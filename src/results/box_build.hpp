#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/board.hpp"
#include "base/point.hpp"
#include "base/sides.hpp"

namespace boxroom {

/// A volume in the sum that makes a box, with how it was found.
struct VolumeItem {
    std::string name;
    double volume = 0;  ///< [m3]
    double error = 0;   ///< may be off by this, either way
    std::string rule;
};

struct WeightItem {
    std::string name;
    double mass = 0;  ///< [kg]
};

/// A box one can saw. Lengths in m, volumes in m3.
struct BoxBuild {
    // What is asked for and what comes of it.
    double asked_net = 0, net = 0, filling_gain = 1, apparent = 0;
    double qtc = 0, fc = 0;
    double qtc_low = 0, qtc_high = 0;  ///< if every estimate is off by its error
    std::vector<VolumeItem> volumes;   ///< net, driver, amplifier, bracing: they add up to gross
    double driver = 0, amplifier = 0, bracing = 0, gross = 0;
    double filling_mass = 0;                           ///< [kg]
    std::vector<std::array<double, 3>> filling_steps;  ///< gain, apparent volume, Qtc

    // The box.
    Sides inner, outer;
    double thickness = 0, feet = 0;
    std::string material, material_source, joint;
    Facing facing = Facing::front;  ///< up, down, or front for all that stand upright
    bool double_front = false;
    int braces = 0;
    bool cleats = false;
    std::array<double, 3> internal_modes{};  ///< along width, depth, height [Hz]
    double first_internal_mode = 0, crossover = 0;

    // Wood.
    std::vector<Panel> panels;
    CuttingPlan cutting;
    std::optional<double> cut_out;  ///< driver's hole, diameter
    bool cut_out_given = false;
    std::optional<double> driver_frame;
    std::optional<std::array<double, 2>> amplifier_cut_out;  ///< width, height

    // Weight.
    double weight = 0;  ///< [kg]
    std::vector<WeightItem> weights;
    Point centre_of_gravity;  ///< from the middle of the box to the right and back, from the floor
    double tipping_angle = 0, tipping_push = 0;  ///< [rad], [N]
    std::string tipping_edge;

    std::vector<std::string> remarks;   ///< what the builder should know about this box
    std::vector<std::string> cautions;  ///< where somebody can be hurt
};

}  // namespace boxroom
