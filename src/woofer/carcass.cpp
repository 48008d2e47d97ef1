#include "woofer/carcass.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace boxroom {
namespace {

double product(const Sides& box) {
    return box.width * box.depth * box.height;
}

/// A panel laid with its longer side as the length.
Panel laid(std::string name, int count, double a, double b, std::string edges, double volume) {
    return {std::move(name), count, std::max(a, b), std::min(a, b), std::move(edges),
            volume,          {},    false};
}

/// Splits what stands in the air; bracing of the real, rounded box.
void share_out(Carcass& box, const EnclosureRules& rules) {
    const Bodies& b = rules.bodies;
    box.driver = b.driver.value, box.amplifier = b.amplifier.value;
    if (rules.itemised) {
        box.bracing = bracing(box.inner, rules);
    } else {
        box.driver = std::min(box.driver, rules.extra_volume);
        box.amplifier = std::min(box.amplifier, rules.extra_volume - box.driver);
        box.bracing = rules.extra_volume - box.driver - box.amplifier;
    }
    box.gross = product(box.inner);
    box.net = box.gross - box.driver - box.amplifier - box.bracing;
}

void add_inner_parts(std::vector<Panel>& list, const Sides& inner, const EnclosureRules& rules,
                     double t) {
    const bool top = lies(rules.facing);
    const double across = inner.width, along = top ? inner.depth : inner.height,
                 deep = top ? inner.height : inner.depth;
    const int braces = rules.bodies.braces;
    if (braces > 0) {
        const double bar = brace_bar(across, along);
        Panel brace = laid("brace with a window", braces, across, along, "square",
                           t * (across * along - (across - 2 * bar) * (along - 2 * bar)));
        brace.window = {brace.length - 2 * bar, brace.width - 2 * bar};
        brace.inside = true;
        list.push_back(brace);
    }
    const double run = (deep - braces * t) / (braces + 1);
    if (rules.bodies.cleats && run > 0) {
        list.push_back(laid("cleat", 4 * (braces + 1), run, t, "square", run * t * t));
        list.back().inside = true;
    }
}

}  // namespace

double mitred_volume(double a, double b, double t) {
    return t / 6 * (a * b + 4 * (a - t) * (b - t) + (a - 2 * t) * (b - 2 * t));
}

std::array<double, 3> internal_modes(const Sides& inner, double speed_of_sound) {
    return {speed_of_sound / (2 * inner.width), speed_of_sound / (2 * inner.depth),
            speed_of_sound / (2 * inner.height)};
}

std::vector<Panel> cut_list(const Sides& inner, const EnclosureRules& rules,
                            const BuildRules& build) {
    const double t = rules.thickness;
    const Sides shell{inner.width + 2 * t, inner.depth + 2 * t, inner.height + 2 * t};
    const bool top = lies(rules.facing);
    std::vector<Panel> list;
    const auto add = [&](const char* name, int count, double a, double b, const char* edges) {
        list.push_back(
            laid(name, count, a, b, edges, build.mitred ? mitred_volume(a, b, t) : a * b * t));
    };
    const char* edges =
        build.mitred ? "all four at 45 degrees, sizes are of the outer face" : "square";
    // Named by what they carry, since the driver's hole makes one of a pair differ.
    const double deep = build.mitred ? shell.depth : inner.depth;
    const double high = build.mitred ? shell.height : inner.height;
    if (top) {
        add("front and back", 2, shell.width, shell.height, edges);
        add("top", 1, shell.width, deep, edges);
        add("bottom", 1, shell.width, deep, edges);
    } else {
        add("front", 1, shell.width, shell.height, edges);
        add("back", 1, shell.width, shell.height, edges);
        add("top and bottom", 2, shell.width, deep, edges);
    }
    add("side", 2, high, deep, edges);
    if (rules.double_front) {
        const double a = shell.width, b = top ? shell.depth : shell.height;
        list.push_back(
            laid(top ? "second layer of the driver's panel" : "second layer of the front", 1, a, b,
                 "square", a * b * t));
    }
    add_inner_parts(list, inner, rules, t);
    return list;
}

Carcass build_carcass(double net_volume, const EnclosureRules& rules, const BuildRules& build,
                      double step) {
    const Sides exact = enclosure(net_volume, rules);
    const Sides panels = outer_sides({0, 0, 0}, rules);
    const auto nearest = [&](double side, int n) { return (std::round(side / step) + n) * step; };
    const double limit = std::max(exact.height, rules.tallest - rules.feet) + 1e-9;
    constexpr double close = 0.02e-3;  // m3
    Carcass best;
    double best_miss = 1e9, best_stray = 1e9;
    for (int i = -2; i <= 2; ++i)
        for (int j = -2; j <= 2; ++j)
            for (int k = -2; k <= 2; ++k) {
                Carcass box;
                box.outer = {nearest(exact.width, i), nearest(exact.depth, j),
                             nearest(exact.height, k)};
                box.inner = {box.outer.width - panels.width, box.outer.depth - panels.depth,
                             box.outer.height - panels.height};
                if (box.outer.height > limit ||
                    !(box.inner.width > 0 && box.inner.depth > 0 && box.inner.height > 0))
                    continue;
                share_out(box, rules);
                const double miss = std::max(close, std::abs(box.net - net_volume));
                const double stray =
                    std::hypot(box.outer.width - exact.width, box.outer.depth - exact.depth,
                               box.outer.height - exact.height);
                if (std::pair(miss, stray) >= std::pair(best_miss, best_stray)) continue;
                best_miss = miss, best_stray = stray, best = box;
            }
    best.thickness = rules.thickness;
    best.panels = cut_list(best.inner, rules, build);
    return best;
}

}  // namespace boxroom
