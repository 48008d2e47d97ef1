#pragma once
#include <string>

#include "report/curve_chart.hpp"

namespace boxroom {

/// The chart as a picture of its own: one SVG file that needs nothing else, with title, legend and
/// white ground; `narrow` is for a telephone. Empty where there is nothing to draw, as chart_html.
std::string chart_picture(const CurveChart& chart, bool narrow = false);

}  // namespace boxroom
