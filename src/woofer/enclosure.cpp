#include "woofer/enclosure.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"

namespace boxroom {

Enclosure enclosure(double net_volume, const EnclosureRules& rules) {
    if (!(net_volume > 0) || !std::isfinite(net_volume))
        throw Error("[box] volume", "the net volume must be above zero",
                    "write for example \"25 L\"");
    const double w = rules.proportion_width, h = rules.proportion_height,
                 d = rules.proportion_depth;
    if (!(w > 0 && h > 0 && d > 0) || !(rules.thickness >= 0) || !(rules.extra_volume >= 0))
        throw Error("[box]",
                    "a box needs proportions above zero, and no negative thickness or extra "
                    "volume",
                    "leave them out to get the usual ones");
    const double unit = std::cbrt((net_volume + rules.extra_volume) / (w * h * d));
    const double panels = 2 * rules.thickness;
    return {w * unit + panels, d * unit + panels, h * unit + panels};
}

bool holds_driver(const Enclosure& box, const EnclosureRules& rules, double sd) {
    const double cut_out = 1.15 * 2 * std::sqrt(sd / std::numbers::pi);
    const double panels = 2 * rules.thickness;
    const bool lies = rules.facing == Facing::up || rules.facing == Facing::down;
    const double narrow = std::min(box.width, box.depth) - panels;
    return narrow >= cut_out && (lies || box.height - panels >= cut_out);
}

Point acoustic_centre(double x, double y, const Enclosure& box, double feet, Facing facing) {
    Point p{x, y, feet + box.height / 2};
    switch (facing) {
        case Facing::left:
            p.x -= box.width / 2;
            break;
        case Facing::right:
            p.x += box.width / 2;
            break;
        case Facing::front:
            p.y -= box.depth / 2;
            break;
        case Facing::back:
            p.y += box.depth / 2;
            break;
        case Facing::up:
            p.z = feet + box.height;
            break;
        case Facing::down:
            p.z = feet;
            break;
        case Facing::inward:
            break;
    }
    return p;
}

}  // namespace boxroom
