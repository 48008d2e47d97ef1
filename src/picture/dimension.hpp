#pragma once
#include "base/units.hpp"
#include "picture/drawing.hpp"

namespace boxroom {

/// What a measured line says: the leading unit above it, the other below.
struct Measure {
    std::string above, below;
};
Measure measure(double metres, Units lead);

/// A measured line below a view: from x0 to x1 at height y, with thin lines up to `from_y`.
/// Nothing is drawn where the words do not fit between the ends; returns whether they did.
bool dimension_across(Drawing& drawing, double x0, double x1, double y, double from_y,
                      const Measure& measure);
/// The same on the left of a view, read upwards: from y0 (above) to y1 at x.
bool dimension_upright(Drawing& drawing, double y0, double y1, double x, double from_x,
                       const Measure& measure);

}  // namespace boxroom
