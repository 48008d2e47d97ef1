#include "report/chart_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "report/html_text.hpp"

namespace boxroom {
namespace {

std::vector<double> x_ticks(const ChartAxis& axis) {
    std::vector<double> ticks;
    if (!axis.logarithmic) {
        for (double k = std::ceil(axis.low / axis.step - 1e-9); k * axis.step <= axis.high + 1e-9;
             ++k)
            ticks.push_back(k * axis.step + 0.0);  // never -0
        return ticks;
    }
    for (double decade = std::pow(10, std::floor(std::log10(axis.low))); decade <= axis.high;
         decade *= 10)
        for (int digit = 1; digit < 10; ++digit)
            if (const double v = decade * digit;
                v >= axis.low * (1 - 1e-6) && v <= axis.high * (1 + 1e-6))
                ticks.push_back(v);
    return ticks;
}

/// Which ticks carry a number: first those that start with 1, 2 and 5, then the others, as long as
/// they keep their distance.
std::vector<double> numbered(const ChartAxis& axis, const std::vector<double>& ticks,
                             const ChartSheet& sheet) {
    std::vector<double> out;
    const auto at = [&](double v) { return axis.share(v) * (sheet.right - sheet.left); };
    for (const std::string& digits :
         {std::string(axis.logarithmic ? "125" : "123456789-0"), std::string("346789")})
        for (const double tick : ticks) {
            const bool leads = digits.find(fmt::format("{:g}", tick)[0]) != std::string::npos;
            if (leads && std::ranges::none_of(out, [&](double other) {
                    return std::abs(at(other) - at(tick)) < sheet.tick_distance;
                }))
                out.push_back(tick);
        }
    return out;
}

/// The curve in the plot's own coordinates; gaps where a value is missing.
std::string curve_path(const CurveChart& chart, const ChartCurve& curve, const ChartAxis& across,
                       const ChartAxis& up, double width, double height) {
    std::string path;
    bool drawing = false;
    const std::size_t count = std::min(chart.x.size(), curve.value.size());
    for (std::size_t i = 0; i < count; ++i) {
        if (!std::isfinite(curve.value[i])) {
            drawing = false;
            continue;
        }
        // Far outside the frame is as good as further outside: the frame cuts it.
        const double share = std::clamp(up.share(curve.value[i]), -1.0, 2.0);
        path += fmt::format("{}{:.1f} {:.1f}", drawing ? 'L' : 'M',
                            across.share(chart.x[i]) * width, (1 - share) * height);
        drawing = true;
    }
    return path.empty() ? ""
                        : fmt::format(
                              "<path class=\"curve\" d=\"{}\" stroke=\"{}\" stroke-width=\"{:g}\""
                              "{}/>",
                              path, curve.colour, curve.width,
                              curve.dash.empty() ? "" : " stroke-dasharray=\"" + curve.dash + "\"");
}

}  // namespace

double axis_step(double rough) {
    const double power = std::pow(10, std::floor(std::log10(rough)));
    for (const double digit : {1.0, 2.0, 5.0})
        if (digit * power >= rough * (1 - 1e-9)) return digit * power;
    return 10 * power;
}

std::string chart_colour(std::size_t index) {
    static const char* const colours[] = {"#0a5d9c", "#b3471b", "#00705a",
                                          "#963d7f", "#7d5f00", "#5b5f66"};
    return colours[index % 6];
}

std::string chart_dash(std::size_t index) {
    static const char* const dashes[] = {"", "7 3", "2 3", "10 3 2 3", "4 2"};
    return dashes[index % 5];
}

bool drawable(const CurveChart& chart) {
    return chart.x.size() > 1 && chart.x.back() > chart.x.front() &&
           (!chart.logarithmic || chart.x.front() > 0);
}

ChartAxis value_axis(const CurveChart& chart) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    const auto include = [&](double v) {
        if (std::isfinite(v)) low = std::min(low, v), high = std::max(high, v);
    };
    for (const ChartCurve& curve : chart.curves) std::ranges::for_each(curve.value, include);
    for (const ChartMark& mark : chart.marks) include(mark.y);
    if (low > high) low = 0, high = 1;
    // A null of -300 dB must not flatten everything else; what lies deeper is cut off.
    low = std::max(low, high - chart.deepest);
    if (chart.from_zero) low = std::min(low, 0.0);
    const double step = axis_step(std::max((high - low) / 6, 0.1));
    low = std::floor(low / step + 1e-9) * step;
    high = std::ceil(high / step - 1e-9) * step;
    if (high - low < step) high = low + step;
    return {low, high, step, false};
}

// On a logarithmic axis up to the next tick where that is near, for
// a grid of so many points an octave seldom ends on the round number it was meant to reach.
ChartAxis position_axis(const CurveChart& chart) {
    ChartAxis axis{chart.x.front(), chart.x.back(), 0.1, chart.logarithmic};
    axis.step = axis_step((axis.high - axis.low) / 10);
    if (!axis.logarithmic) return axis;
    const double decade = std::pow(10, std::floor(std::log10(axis.high)));
    const double next = std::ceil(axis.high / decade - 1e-9) * decade;
    if (next < 1.03 * axis.high) axis.high = next;
    return axis;
}

std::string mark_shape(ChartMark::Shape shape, double x, double y) {
    switch (shape) {
        case ChartMark::Shape::disc:
            return fmt::format("<circle class=\"mark\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\"/>", x,
                               y);
        case ChartMark::Shape::square:
            return fmt::format(
                "<rect class=\"mark\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"10\" height=\"10\"/>",
                x - 5, y - 5);
        case ChartMark::Shape::triangle:
            break;
    }
    return fmt::format("<path class=\"mark hollow\" d=\"M{:.1f} {:.1f}l10 17h-20z\"/>", x, y - 11);
}

std::string draw_chart(const CurveChart& chart, const ChartAxis& across, const ChartAxis& up,
                       const ChartSheet& sheet) {
    const double width = sheet.right - sheet.left, height = sheet.bottom - sheet.top;
    std::string svg;
    if (chart.shade_to > chart.shade_from) {
        const double from = std::clamp(across.share(chart.shade_from), 0.0, 1.0) * width;
        const double to = std::clamp(across.share(chart.shade_to), 0.0, 1.0) * width;
        svg += fmt::format(
            "<rect class=\"shade\" x=\"{:.1f}\" y=\"{:g}\" width=\"{:.1f}\" height=\"{:g}\"/>",
            sheet.left + from, sheet.top, to - from, height);
    }
    svg += "<g class=\"levels\">";
    for (double k = std::round(up.low / up.step); k * up.step <= up.high + 1e-9; ++k) {
        const double y = sheet.bottom - up.share(k * up.step) * height;
        svg += fmt::format(
            "<path class=\"grid{}\" d=\"M{:g} {:.1f}H{:g}\"/><text x=\"{:g}\" y=\"{:.1f}\" "
            "text-anchor=\"end\">{:g}</text>",
            k == 0 && up.low < 0 ? " zero" : "", sheet.left, y, sheet.right, sheet.left - 6,
            y + 4.5, k * up.step);
    }
    svg += "</g>";
    const std::vector<double> ticks = x_ticks(across);
    for (const double tick : ticks)
        svg += fmt::format("<path class=\"grid\" d=\"M{:.1f} {:g}V{:g}\"/>",
                           sheet.left + across.share(tick) * width, sheet.top, sheet.bottom + 4);
    for (const double tick : numbered(across, ticks, sheet))
        svg += fmt::format("<text x=\"{:.1f}\" y=\"{:g}\" text-anchor=\"middle\">{:g}</text>",
                           sheet.left + across.share(tick) * width, sheet.bottom + 19, tick);
    svg += fmt::format(
        "<svg x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" viewBox=\"0 0 {:g} {:g}\">",
        sheet.left, sheet.top, width, height, width, height);
    for (const ChartCurve& curve : chart.curves)
        svg += curve_path(chart, curve, across, up, width, height);
    svg += "</svg>";
    for (const ChartMark& mark : chart.marks)
        if (std::isfinite(mark.x) && std::isfinite(mark.y))
            svg += fmt::format("<g class=\"at\" data-value=\"{:.4f}\">", mark.y) +
                   mark_shape(mark.shape, sheet.left + across.share(mark.x) * width,
                              sheet.bottom - up.share(mark.y) * height) +
                   "</g>";
    return svg + fmt::format(
                     "<path class=\"cursor\" data-top=\"{:g}\" data-bottom=\"{:g}\"/><path "
                     "class=\"frame\" "
                     "d=\"M{:g} {:g}V{:g}H{:g}\"/><text x=\"{:g}\" y=\"{:g}\" "
                     "text-anchor=\"middle\">{}</text><text "
                     "transform=\"translate(13 {:g}) rotate(-90)\" "
                     "text-anchor=\"middle\">{}</text>",
                     sheet.top, sheet.bottom, sheet.left, sheet.top, sheet.bottom, sheet.right,
                     sheet.left + width / 2, sheet.height - 10, escape_html(chart.x_title),
                     sheet.top + height / 2, escape_html(chart.y_title));
}

}  // namespace boxroom
