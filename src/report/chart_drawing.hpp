#pragma once
#include <cmath>
#include <string>

#include "report/curve_chart.hpp"

namespace boxroom {

/// Where a drawing has its parts. Lengths are in the SVG's own units, which are pixels at the width
/// that the drawing is meant for.
struct ChartSheet {
    const char* name;
    double width, height;
    double left, right, top, bottom;  ///< edges of the plot
    double tick_distance;             ///< smallest between two numbers on the x axis
};
/// The numbers along one side of a plot.
struct ChartAxis {
    double low = 0, high = 1, step = 0.2;
    bool logarithmic = false;
    double share(double v) const {
        return logarithmic ? std::log(v / low) / std::log(high / low) : (v - low) / (high - low);
    }
};

/// Whether there is anything to draw: two points of x, and above 0 on a logarithmic axis.
bool drawable(const CurveChart& chart);
/// In round steps over all curves and marks; what lies further below the highest value than
/// `deepest` is cut off.
ChartAxis value_axis(const CurveChart& chart);
/// From the first to the last x.
ChartAxis position_axis(const CurveChart& chart);
/// SVG of one mark, its middle at (x, y).
std::string mark_shape(ChartMark::Shape shape, double x, double y);
/// The elements of the drawing, in the sheet's own units; an <svg> with its viewBox goes round
/// them.
std::string draw_chart(const CurveChart& chart, const ChartAxis& across, const ChartAxis& up,
                       const ChartSheet& sheet);

}  // namespace boxroom
