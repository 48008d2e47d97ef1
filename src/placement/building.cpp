#include "placement/building.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/workshop_units.hpp"
#include "placement/building_words.hpp"
#include "woofer/carcass.hpp"
#include "woofer/cutting.hpp"
#include "woofer/weight.hpp"

namespace boxroom {
namespace {

/// The holes must leave wood round them.
void require_holes_fit(const BoxBuild& b, const Sides& inner, const EnclosureRules& rules) {
    const bool top = lies(rules.facing);
    const double across = inner.width, along = top ? inner.depth : inner.height;
    const double least = std::min(across, along);
    if (b.cut_out && *b.cut_out > least)
        throw Error("[build] driver_cut_out",
                    "the driver's hole (" + format_millimetres(*b.cut_out) +
                        (b.cut_out_given ? "" : ", estimated from sd") +
                        ") is wider than its panel inside (" + format_millimetres(least) + ")",
                    b.outer.height + b.feet > rules.tallest - 0.01
                        ? "let it be taller ([spots] tallest), larger, or take a smaller driver"
                        : "take a larger box, other [box] proportions, or a smaller driver");
    if (depth_left(inner, rules).value_or(1) < 0)
        throw Error("[build] driver_depth",
                    "the driver is " + format_millimetres(*rules.driver_depth) +
                        " deep and reaches through the back",
                    "take a larger or deeper box ([box] proportions)");
    if (!b.amplifier_cut_out) return;
    const auto [w, h] = *b.amplifier_cut_out;
    if (w > inner.width || h > inner.height)
        throw Error("[build] amplifier_cut_out",
                    "the amplifier's hole (" + format_millimetres(w) + " x " +
                        format_millimetres(h) + ") is larger than the back inside (" +
                        format_millimetres(inner.width) + " x " + format_millimetres(inner.height) +
                        ")",
                    "let the amplifier stand outside, or take a larger box");
}

/// What is in the air, with how it is known.
void list_volumes(BoxBuild& b, const Carcass& box, const EnclosureRules& rules) {
    const Bodies& bodies = rules.bodies;
    b.net = box.net, b.driver = box.driver, b.amplifier = box.amplifier, b.bracing = box.bracing;
    b.gross = box.gross;
    const char* shared = "part of [box] extra_volume";
    const bool itemised = rules.itemised;
    b.volumes.push_back({"net", b.net, 0, "what the driver works into"});
    b.volumes.push_back(
        {"driver", b.driver, bodies.driver.error, itemised ? bodies.driver.rule : shared});
    b.volumes.push_back({"amplifier", b.amplifier, bodies.amplifier.error,
                         itemised ? bodies.amplifier.rule : shared});
    b.volumes.push_back({"bracing", b.bracing, 0,
                         !itemised        ? shared
                         : bodies.bracing ? "as given"
                                          : "cleats and braces of the cut list"});
}

void reckon_tuning(BoxBuild& b, const Driver& driver, double filling) {
    const auto at = [&](double net) { return closed_box(driver, net, filling); };
    const ClosedBox box = at(b.net);
    b.filling_gain = filling, b.apparent = box.apparent_volume, b.qtc = box.qtc, b.fc = box.fc;
    double error = 0;  // all off the same way: the worst
    for (const VolumeItem& item : b.volumes) error += item.error;
    b.qtc_low = at(b.net + error).qtc;
    b.qtc_high = at(std::max(0.1 * b.net, b.net - error)).qtc;
    for (const double gain : {1.0, 1.1, 1.2, 1.3, 1.4}) {
        const ClosedBox filled = closed_box(driver, b.net, gain);
        b.filling_steps.push_back({gain, filled.apparent_volume, filled.qtc});
    }
}

double filling_mass(const Scenario& s, const Carcass& box) {
    return s.design.filling > 1 ? s.design.build.filling_density * box.net : 0;
}

Balance weighed(const Scenario& s, const Carcass& box) {
    const bool outside = box.amplifier <= 0;  // an amplifier that takes no air is not in the box
    const double driver =
        s.design.build.driver_mass.value_or(driver_mass(s.design.driver.sd).value);
    const double amplifier = s.design.build.amplifier_mass.value_or(
        outside ? 0 : amplifier_mass(s.design.amplifier.power).value);
    return weigh(box, s.design.enclosure, s.design.build, driver, amplifier, filling_mass(s, box),
                 driver_cut_out(s.design.enclosure, s.design.driver.sd));
}

void weigh_it(BoxBuild& b, const Scenario& s, const Carcass& box) {
    b.filling_mass = filling_mass(s, box);
    const Balance balance = weighed(s, box);
    b.weight = balance.mass;
    for (const Part& part : balance.parts) b.weights.push_back({part.name, part.mass});
    b.centre_of_gravity = balance.centre;
    b.tipping_angle = balance.tipping_angle;
    b.tipping_push = balance.tipping_push;
    b.tipping_edge = balance.edge;
}

}  // namespace

double finished_weight(const Scenario& s, double net_volume) {
    return weighed(s, build_carcass(net_volume, s.design.enclosure, s.design.build, 1e-3)).mass;
}

BoxBuild build_box(const Scenario& s, const Driver& driver, const ClosedBox& box, Units units) {
    const double step = units == Units::metric ? 1e-3 : 0.0254 / 16;
    const Carcass carcass = build_carcass(box.volume, s.design.enclosure, s.design.build, step);
    const Facing facing = s.design.enclosure.facing;
    BoxBuild b;
    b.asked_net = box.volume;
    b.inner = carcass.inner, b.outer = carcass.outer;
    b.thickness = carcass.thickness, b.feet = s.design.enclosure.feet;
    b.material = s.design.build.material.name, b.material_source = s.design.build.material.source;
    b.joint = s.design.build.mitred ? "mitred" : "butt";
    b.facing = lies(facing) ? facing : Facing::front;
    b.double_front = s.design.enclosure.double_front;
    b.braces = s.design.enclosure.bodies.braces, b.cleats = s.design.enclosure.bodies.cleats;
    b.cut_out = driver_cut_out(s.design.enclosure, driver.sd);
    b.cut_out_given = s.design.enclosure.cut_out.has_value();
    b.driver_frame = s.design.build.driver_frame,
    b.amplifier_cut_out = s.design.enclosure.amplifier_cut_out;
    require_holes_fit(b, carcass.inner, s.design.enclosure);
    list_volumes(b, carcass, s.design.enclosure);
    reckon_tuning(b, driver, box.filling);
    b.internal_modes = internal_modes(carcass.inner, s.acoustics.air.speed_of_sound);
    b.first_internal_mode = *std::min_element(b.internal_modes.begin(), b.internal_modes.end());
    b.crossover = s.placed.crossover ? s.placed.crossover->frequency : s.judgement.target.band.high;
    b.panels = carcass.panels;
    b.cutting = cutting_plan(b.panels, s.design.build.sheet_length, s.design.build.sheet_width,
                             s.design.build.kerf, s.design.build.grain);
    weigh_it(b, s, carcass);
    write_building_words(b, s, units);
    return b;
}

}  // namespace boxroom
