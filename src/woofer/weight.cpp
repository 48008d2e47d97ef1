#include "woofer/weight.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {
namespace {

/// A hollow shell of uniform board: mass and middle of outer box minus inner box. A second layer
/// makes the shell lopsided, which this carries exactly.
Part shell(const Carcass& box, const EnclosureRules& rules, double density) {
    const double outer = box.outer.width * box.outer.depth * box.outer.height;
    const double t = rules.thickness;
    Point inner_middle{0, 0, rules.feet + box.outer.height / 2};
    if (rules.double_front) {  // the layer pushes the inner box away from the driver's panel
        if (rules.facing == Facing::up) inner_middle.z -= t / 2;
        if (rules.facing == Facing::down) inner_middle.z += t / 2;
        if (!lies(rules.facing)) inner_middle.y += t / 2;
    }
    const double volume = outer - box.gross;
    const double z = rules.feet + box.outer.height / 2;
    return {"panels",
            density * volume,
            {0, -box.gross * inner_middle.y / volume,
             (outer * z - box.gross * inner_middle.z) / volume}};
}

/// Middle of the driver's panel, and the way in from it.
Point in_front_panel(const Carcass& box, const EnclosureRules& rules, double depth) {
    const double low = rules.feet, high = rules.feet + box.outer.height;
    if (rules.facing == Facing::up) return {0, 0, high - depth};
    if (rules.facing == Facing::down) return {0, 0, low + depth};
    return {0, -box.outer.depth / 2 + depth, (low + high) / 2};
}

}  // namespace

Balance weigh(const Carcass& box, const EnclosureRules& rules, const BuildRules& build,
              double driver_mass, double amplifier_mass, double filling_mass,
              std::optional<double> cut_out) {
    constexpr double gravity = 9.81;
    const double density = build.material.density, t = rules.thickness;
    const double middle = rules.feet + box.outer.height / 2;
    Balance out;
    out.parts.push_back(shell(box, rules, density));
    double inside = 0;  // braces and cleats lie evenly about the middle
    for (const Panel& panel : box.panels)
        if (panel.inside) inside += panel.count * panel.volume * density;
    out.parts.push_back({"brace and cleats", inside, {0, 0, middle}});
    if (cut_out) {
        const double layers = rules.double_front ? 2 * t : t;
        const double hole = std::numbers::pi / 4 * *cut_out * *cut_out * layers;
        out.parts.push_back(
            {"driver's hole", -hole * density, in_front_panel(box, rules, layers / 2)});
    }
    const double amplifier_z = rules.amplifier_cut_out
                                   ? rules.feet + t + 0.02 + (*rules.amplifier_cut_out)[1] / 2
                                   : rules.feet + box.outer.height / 3;
    if (rules.amplifier_cut_out)
        out.parts.push_back(
            {"amplifier's hole",
             -density * t * (*rules.amplifier_cut_out)[0] * (*rules.amplifier_cut_out)[1],
             {0, box.outer.depth / 2 - t / 2, amplifier_z}});
    // The magnet is most of a driver's weight: about a quarter of the frame's diameter behind it.
    out.parts.push_back(
        {"driver", driver_mass, in_front_panel(box, rules, 0.25 * cut_out.value_or(0.24))});
    if (amplifier_mass > 0)
        out.parts.push_back(
            {"amplifier", amplifier_mass, {0, box.outer.depth / 2 - 0.03, amplifier_z}});
    if (filling_mass > 0) out.parts.push_back({"filling", filling_mass, {0, 0, middle}});

    for (const Part& part : out.parts) out.mass += part.mass;
    for (const Part& part : out.parts) {
        out.centre.x += part.mass * part.middle.x / out.mass;
        out.centre.y += part.mass * part.middle.y / out.mass;
        out.centre.z += part.mass * part.middle.z / out.mass;
    }
    const double side = box.outer.width / 2, front = box.outer.depth / 2 + out.centre.y,
                 back = box.outer.depth / 2 - out.centre.y;
    const double base = std::min({side, front, back});
    out.edge = base == front ? "front" : base == back ? "back" : "side";
    out.tipping_angle = std::atan2(base, out.centre.z);
    out.tipping_push = out.mass * gravity * base / (rules.feet + box.outer.height);
    return out;
}

}  // namespace boxroom
