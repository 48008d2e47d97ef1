#include "woofer/enclosure.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {

namespace {

void require_possible(const EnclosureRules& rules) {
    if (!(rules.proportion_width > 0 && rules.proportion_height > 0 &&
          rules.proportion_depth > 0) ||
        !(rules.thickness >= 0) || !(rules.extra_volume >= 0))
        throw Error("[box]",
                    "a box needs proportions above zero, and no negative thickness or extra "
                    "volume",
                    "leave them out to get the usual ones");
}

}  // namespace

double bracing(const Sides& inner, const EnclosureRules& rules) {
    const Bodies& b = rules.bodies;
    if (b.bracing) return *b.bracing;
    const bool top = lies(rules.facing);
    return bracing_volume(inner.width, top ? inner.depth : inner.height,
                          top ? inner.height : inner.depth, rules.thickness, b.braces, b.cleats);
}

double inner_volume(double net_volume, const EnclosureRules& rules) {
    if (!(net_volume > 0) || !std::isfinite(net_volume))
        throw Error("[box] volume", "the net volume must be above zero",
                    "write for example \"25 L\"");
    require_possible(rules);
    if (!rules.itemised) return net_volume + rules.extra_volume;
    const double fixed = net_volume + rules.bodies.driver.value + rules.bodies.amplifier.value;
    // Bracing grows more slowly than the volume, so this shrinks the error several times a step;
    // very small boxes with many braces converge slowly, hence the generous limit.
    double volume = fixed;
    for (int step = 0; step < 500; ++step) {
        const double next = fixed + bracing(inner_sides(volume, rules), rules);
        const bool settled = std::abs(next - volume) <= 1e-15 * volume;
        volume = next;
        if (settled) break;
    }
    return volume;
}

Sides inner_sides(double inner_volume, const EnclosureRules& rules) {
    require_possible(rules);
    const double w = rules.proportion_width, h = rules.proportion_height,
                 d = rules.proportion_depth;
    double unit = std::cbrt(inner_volume / (w * h * d)), height = h * unit;
    const double panels = outer_sides({0, 0, 0}, rules).height;
    const double most = rules.tallest - rules.feet - panels;
    if (height > most && most > 0) {
        height = most;
        unit = std::sqrt(inner_volume / (w * d * height));
    }
    return {w * unit, d * unit, height};
}

Sides outer_sides(const Sides& inner, const EnclosureRules& rules) {
    const double panels = 2 * rules.thickness, layer = rules.double_front ? rules.thickness : 0;
    const bool top = lies(rules.facing);
    return {inner.width + panels, inner.depth + panels + (top ? 0 : layer),
            inner.height + panels + (top ? layer : 0)};
}

Sides enclosure(double net_volume, const EnclosureRules& rules) {
    return outer_sides(inner_sides(inner_volume(net_volume, rules), rules), rules);
}

std::optional<double> driver_cut_out(const EnclosureRules& rules, std::optional<double> sd) {
    if (rules.cut_out) return rules.cut_out;
    if (sd) return 1.15 * cone_diameter(*sd);
    return std::nullopt;
}

bool holds_driver(const Sides& box, const EnclosureRules& rules, std::optional<double> sd) {
    const auto cut_out = driver_cut_out(rules, sd);
    if (!cut_out) return true;
    const Sides panels = outer_sides({0, 0, 0}, rules);
    const double narrow = std::min(box.width - panels.width, box.depth - panels.depth);
    return narrow >= *cut_out && (lies(rules.facing) || box.height - panels.height >= *cut_out);
}

std::optional<double> depth_left(const Sides& inner, const EnclosureRules& rules) {
    if (!rules.driver_depth) return std::nullopt;
    const double panel = rules.thickness * (rules.double_front ? 2 : 1);
    return (lies(rules.facing) ? inner.height : inner.depth) + panel - *rules.driver_depth;
}

bool can_be_built(const Sides& box, const EnclosureRules& rules, std::optional<double> sd) {
    if (!holds_driver(box, rules, sd)) return false;
    const Sides panels = outer_sides({0, 0, 0}, rules);
    const Sides inner{box.width - panels.width, box.depth - panels.depth,
                      box.height - panels.height};
    if (depth_left(inner, rules).value_or(1) < behind_magnet) return false;
    return !rules.amplifier_cut_out || ((*rules.amplifier_cut_out)[0] <= inner.width &&
                                        (*rules.amplifier_cut_out)[1] <= inner.height);
}

Point acoustic_centre(double x, double y, const Sides& box, double feet, Facing facing) {
    if (facing == Facing::inward) return {x, y, feet + box.height / 2};
    const Point to = direction(facing);
    return {x + to.x * box.width / 2, y + to.y * box.depth / 2, feet + (1 + to.z) * box.height / 2};
}

}  // namespace boxroom
