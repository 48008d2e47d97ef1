#include "woofer/enclosure.hpp"

#include <cmath>

#include "base/error.hpp"

namespace boxroom {

Enclosure enclosure(double net_volume, const EnclosureRules& rules) {
    if (!(net_volume > 0))
        throw Error("[box] volume", "the net volume must be above zero", "write for example \"25 L\"");
    const double w = rules.proportion_width, h = rules.proportion_height,
                 d = rules.proportion_depth;
    const double unit = std::cbrt((net_volume + rules.extra_volume) / (w * h * d));
    const double panels = 2 * rules.thickness;
    return {w * unit + panels, d * unit + panels, h * unit + panels};
}

Point acoustic_centre(double x, double y, const Enclosure& box, double feet, Facing facing) {
    Point p{x, y, feet + box.height / 2};
    switch (facing) {
        case Facing::left: p.x -= box.width / 2; break;
        case Facing::right: p.x += box.width / 2; break;
        case Facing::front: p.y -= box.depth / 2; break;
        case Facing::back: p.y += box.depth / 2; break;
        case Facing::up: p.z = feet + box.height; break;
        case Facing::down: p.z = feet; break;
        case Facing::inward: break;
    }
    return p;
}

}  // namespace boxroom
