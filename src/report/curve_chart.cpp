#include "report/curve_chart.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "report/chart_drawing.hpp"
#include "report/html_text.hpp"

namespace boxroom {
namespace {

constexpr ChartSheet sheets[] = {{"wide", 760, 380, 58, 748, 12, 326, 34},
                                 {"narrow", 358, 330, 46, 344, 10, 276, 30}};

std::string drawing(const CurveChart& chart, const ChartAxis& across, const ChartAxis& up,
                    const ChartSheet& sheet) {
    return fmt::format(
               "<svg class=\"chart {}\" viewBox=\"0 0 {:g} {:g}\" aria-hidden=\"true\" "
               "data-left=\"{:g}\" data-right=\"{:g}\">",
               sheet.name, sheet.width, sheet.height, sheet.left, sheet.right) +
           draw_chart(chart, across, up, sheet) + "</svg>";
}

/// The lines with their names; the script writes the reading beside each.
std::string legend(const CurveChart& chart) {
    std::string out = "<ul class=\"legend\">";
    for (const ChartCurve& curve : chart.curves)
        out += fmt::format(
            "<li><svg class=\"sample\" viewBox=\"0 0 34 10\" aria-hidden=\"true\"><path "
            "class=\"curve\" d=\"M0 5H34\" stroke=\"{}\" stroke-width=\"{:g}\" "
            "stroke-dasharray=\"{}\"/></svg>{} <output></output></li>",
            curve.colour, curve.width, curve.dash.empty() ? "none" : curve.dash,
            isolated(curve.name));
    std::string last;
    for (const ChartMark& mark : chart.marks) {  // a choice marked on two curves is named once
        if (mark.name == last) continue;
        last = mark.name;
        out += "<li><svg class=\"sample\" viewBox=\"0 0 34 20\" aria-hidden=\"true\">" +
               mark_shape(mark.shape, 17, 11) + "</svg>" + isolated(mark.name) + "</li>";
    }
    return out + "</ul>";
}

/// To 0.01: what a reading can mean, and short to write. Null where there is no number.
nlohmann::ordered_json rounded(const std::vector<double>& values) {
    nlohmann::ordered_json out = nlohmann::ordered_json::array();
    for (const double v : values)
        if (std::isfinite(v))
            out.push_back(std::round(v * 100) / 100 + 0.0);
        else
            out.push_back(nullptr);
    return out;
}

/// JSON that may stand inside <script>: no "<" in it, so nothing can end the element.
std::string data_json(const CurveChart& chart, const ChartAxis& across, const ChartAxis& up) {
    nlohmann::ordered_json data = {{"log", chart.logarithmic},
                                   {"xUnit", chart.x_unit},
                                   {"yUnit", chart.y_unit},
                                   {"xDecimals", chart.x_decimals},
                                   {"yDecimals", chart.y_decimals}};
    data["axis"] = {across.low, across.high};
    data["range"] = {up.low, up.high, up.step};
    data["x"] = chart.x;
    data["curves"] = nlohmann::ordered_json::array();
    for (const ChartCurve& curve : chart.curves)
        data["curves"].push_back({{"name", curve.name}, {"y", rounded(curve.value)}});
    std::string out;
    for (const char c : data.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace))
        out += c == '<' ? "\\u003c" : std::string(1, c);
    return out;
}

}  // namespace

std::string chart_html(const CurveChart& chart) {
    if (!drawable(chart)) return "";
    const ChartAxis across = position_axis(chart);
    const ChartAxis up = value_axis(chart);
    std::string html = fmt::format(
        "<figure id=\"{0}\"><h3 id=\"{0}-title\">{1}</h3><p class=\"caption\" "
        "id=\"{0}-caption\">{2}</p>"
        "<div class=\"plot\" role=\"slider\" tabindex=\"0\" aria-labelledby=\"{0}-title\" "
        "aria-describedby=\"{0}-caption\" aria-valuemin=\"0\" aria-valuemax=\"{3}\" "
        "aria-valuenow=\"{4}\" aria-valuetext=\"arrow keys read the curves\">",
        escape_html(chart.id), escape_html(chart.title), escape_html(chart.caption),
        chart.x.size() - 1, chart.x.size() / 2);
    for (const ChartSheet& sheet : sheets) html += drawing(chart, across, up, sheet);
    return html +
           "</div><p class=\"reading\">Point at the chart, or use the arrow keys, to read "
           "values.</p>" +
           legend(chart) + "<script type=\"application/json\">" + data_json(chart, across, up) +
           "</script></figure>\n";
}

}  // namespace boxroom
