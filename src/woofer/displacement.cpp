#include "woofer/displacement.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {
namespace {

constexpr double ten_inch_sd = 0.033;  // m2

}  // namespace

double frustum_volume(double wide, double narrow, double height) {
    return std::numbers::pi * height / 12 * (wide * wide + wide * narrow + narrow * narrow);
}

double cone_diameter(double sd) {
    return 2 * std::sqrt(sd / std::numbers::pi);
}

Estimate driver_displacement(std::optional<double> sd) {
    const double d = cone_diameter(sd.value_or(ten_inch_sd));
    const double volume = frustum_volume(d, d / 2, 0.35 * d);
    if (sd)
        return {volume, 0.40 * volume,
                "frustum rule: cone diameter D wide, D/2 narrow, 0.35 D deep; within 40 %"};
    return {volume, 0.70 * volume,
            "frustum rule for a ten-inch cone, because sd is not given; within 70 %"};
}

Estimate amplifier_displacement(std::optional<double> power) {
    if (!power) return {0, 0, "no [amplifier] power given: it stands outside the box"};
    const double volume = 1e-3 + 4e-6 * *power;
    return {volume, 0.50 * volume, "plate amplifier: 1 L + 4 mL per watt; within 50 %"};
}

Estimate driver_mass(std::optional<double> sd) {
    const double mass = 600 * std::pow(cone_diameter(sd.value_or(ten_inch_sd)), 3);
    return {mass, 0.5 * mass, "600 kg/m3 times the cone's diameter cubed; within 50 %"};
}

Estimate amplifier_mass(std::optional<double> power) {
    if (!power) return {0, 0, "no [amplifier] power given: it stands outside the box"};
    const double mass = 2 + 8e-3 * *power;
    return {mass, 0.5 * mass, "plate amplifier: 2 kg + 8 g per watt; within 50 %"};
}

double brace_bar(double across, double along) {
    return 0.15 * std::min(across, along);
}

double bracing_volume(double across, double along, double depth, double thickness, int braces,
                      bool cleats) {
    const double bar = brace_bar(across, along);
    const double window = (across - 2 * bar) * (along - 2 * bar);
    const double brace = thickness * (across * along - window);
    const double run = std::max(0.0, depth - braces * thickness);
    return braces * brace + (cleats ? 4 * thickness * thickness * run : 0);
}

}  // namespace boxroom
