#include "report/chart_picture.hpp"

#include <fmt/format.h>

#include "report/chart_drawing.hpp"
#include "report/html_text.hpp"

namespace boxroom {
namespace {

constexpr ChartSheet wide_sheet{"picture", 760, 380, 58, 748, 12, 326, 34};
constexpr ChartSheet narrow_sheet{"picture", 360, 300, 46, 350, 12, 246, 34};
constexpr double title_height = 62, line_height = 22;

// The colours of the page's charts (report/page/report.css).
constexpr const char* style =
    "text{font:13px system-ui,sans-serif;fill:#3a4043}.title{font-size:19px;fill:#1f2629}"
    ".curve{fill:none;stroke-linejoin:round}.grid{stroke:#e2e2dd;fill:none}"
    ".zero{stroke:#8a8f91}.frame{stroke:#6b7174;fill:none}.cursor{display:none}.shade{fill:#f1ede0}"
    ".mark{fill:#1f2629;stroke:#fff;stroke-width:1.5}"
    ".mark.hollow{fill:none;stroke:#1f2629;stroke-width:2}";

/// Curves one below the other, then the marks, each named once.
std::string legend(const CurveChart& chart, double top, double left) {
    std::string out, last;
    const auto line = [&](const std::string& sample, const std::string& name) {
        out += fmt::format(
            "<g transform=\"translate({:g} {:g})\">{}<text x=\"44\" y=\"4.5\">{}"
            "</text></g>",
            left, top, sample, escape_html(shortened_text(name, 100)));
        top += line_height;
    };
    for (const ChartCurve& curve : chart.curves)
        line(fmt::format("<path class=\"curve\" d=\"M0 0H34\" stroke=\"{}\" stroke-width=\"{:g}\" "
                         "stroke-dasharray=\"{}\"/>",
                         curve.colour, curve.width, curve.dash.empty() ? "none" : curve.dash),
             curve.name);
    for (const ChartMark& mark : chart.marks) {
        if (mark.name != last) line(mark_shape(mark.shape, 17, 0), mark.name);
        last = mark.name;
    }
    return out;
}

std::size_t legend_lines(const CurveChart& chart) {
    std::size_t lines = chart.curves.size();
    std::string last;
    for (const ChartMark& mark : chart.marks) {
        if (mark.name != last) ++lines;
        last = mark.name;
    }
    return lines;
}

}  // namespace

std::string chart_picture(const CurveChart& chart, bool narrow) {
    if (!drawable(chart)) return "";
    const ChartSheet& sheet = narrow ? narrow_sheet : wide_sheet;
    const double legend_top = title_height + sheet.height + line_height / 2;
    const double height = legend_top + line_height * static_cast<double>(legend_lines(chart)) + 6;
    return fmt::format(
               "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:g}\" "
               "width=\"{0:g}\" height=\"{1:g}\" role=\"img\" aria-labelledby=\"title\"><title "
               "id=\"title\">{2}</title><style>{3}</style><rect width=\"100%\" height=\"100%\" "
               "fill=\"#fff\"/><text class=\"title\" x=\"{4:g}\" y=\"28\">{2}</text><text "
               "x=\"{4:g}\" y=\"50\">{5}</text><g transform=\"translate(0 {6:g})\">",
               sheet.width, height, escape_html(chart.title), style, sheet.left,
               escape_html(chart.caption), title_height) +
           draw_chart(chart, position_axis(chart), value_axis(chart), sheet) + "</g>" +
           legend(chart, legend_top, sheet.left) + "</svg>\n";
}

}  // namespace boxroom
