#pragma once
#include <string>
#include <vector>

namespace boxroom {

inline constexpr const char* ink = "#1f2629";  ///< of a curve that is all seats together

/// One line of a chart; values that are not finite leave a gap.
struct ChartCurve {
    std::string name;           ///< as the legend shows it; may be the user's own text
    std::vector<double> value;  ///< as long as the chart's x
    std::string colour;         ///< "#rrggbb", at least 3:1 against white (WCAG 1.4.11)
    std::string dash;           ///< SVG stroke-dasharray, empty for a solid line
    double width = 1.5;         ///< [px]
};

/// A single choice, marked on the curves.
struct ChartMark {
    enum class Shape { disc, square, triangle } shape = Shape::disc;
    std::string name;
    double x = 0, y = 0;
};

struct CurveChart {
    std::string id;                ///< unique on the page: the chart's name in links and labels
    std::string title, caption;    ///< what it shows; how to read it
    std::string x_title, y_title;  ///< with units
    std::string x_unit, y_unit;    ///< as the reading shows them
    int x_decimals = 1, y_decimals = 1;
    std::vector<double> x;  ///< rising
    std::vector<ChartCurve> curves;
    std::vector<ChartMark> marks;
    double shade_from = 0, shade_to = 0;  ///< a stretch of x on tinted ground; none if equal
    bool logarithmic = true;
    bool from_zero = false;  ///< y starts at 0
    double deepest = 45;     ///< y never reaches further below the highest value than this
};

/// The smallest of 1, 2, 5 times a power of ten that is at least `rough` (> 0): steps of an axis.
double axis_step(double rough);

/// Distinct line colours (usable with any colour blindness together with the dashes) and dash
/// patterns; the pair repeats after 30.
std::string chart_colour(std::size_t index);
std::string chart_dash(std::size_t index);

/// A <figure>: inline SVG drawn twice, wide for screen and paper and narrow for a telephone (the
/// page's style shows one of them), a legend that doubles as the reading, and the data as JSON for
/// the page's script. Empty if there is nothing to draw (fewer than two points of x).
std::string chart_html(const CurveChart& chart);

}  // namespace boxroom
