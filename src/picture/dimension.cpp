#include "picture/dimension.hpp"

#include <algorithm>

#include "base/workshop_units.hpp"
#include "picture/text_width.hpp"

namespace boxroom {
namespace {

constexpr Pen thin{0.15, false, {90, 95, 105}};
constexpr Pen tick{0.4, false, {28, 32, 40}};
constexpr double size = 3, air = 1.0, overshoot = 1.2, slant = 1.0;

double widest(const Measure& m) {
    // The reader's font may run wider than ours.
    return 1.12 * std::max(text_width(m.above, size), text_width(m.below, size));
}

}  // namespace

Measure measure(double metres, Units lead) {
    const std::string mm = format_millimetres(metres), in = format_sixteenths(metres);
    return lead == Units::metric ? Measure{mm, in} : Measure{in, mm};
}

bool dimension_across(Drawing& d, double x0, double x1, double y, double from_y, const Measure& m) {
    if (widest(m) > x1 - x0 - 1) return false;
    d.line({x0, y}, {x1, y}, thin);
    for (const double x : {x0, x1}) {
        d.line({x, from_y + air}, {x, y + overshoot}, thin);
        d.line({x - slant, y + slant}, {x + slant, y - slant}, tick);
    }
    const double middle = (x0 + x1) / 2;
    d.text({{middle, y - 0.9}, m.above, size});
    d.text({{middle, y + 0.9 + 0.75 * size}, m.below, size});
    return true;
}

bool dimension_upright(Drawing& d, double y0, double y1, double x, double from_x,
                       const Measure& m) {
    if (widest(m) > y1 - y0 - 1) return false;
    d.line({x, y0}, {x, y1}, thin);
    for (const double y : {y0, y1}) {
        d.line({from_x - air, y}, {x - overshoot, y}, thin);
        d.line({x - slant, y + slant}, {x + slant, y - slant}, tick);
    }
    const double middle = (y0 + y1) / 2;
    d.text({{x - 0.9, middle}, m.above, size, Anchor::middle, false, true});
    d.text({{x + 0.9 + 0.75 * size, middle}, m.below, size, Anchor::middle, false, true});
    return true;
}

}  // namespace boxroom
