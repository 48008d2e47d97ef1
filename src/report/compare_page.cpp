#include "report/compare_page.hpp"

#include <fmt/format.h>

#include "base/number.hpp"
#include "placement/comparison.hpp"
#include "report/curve_chart.hpp"
#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/page_frame.hpp"
#include "report/page_text.hpp"
#include "results/criterion.hpp"

namespace boxroom {
namespace {

std::string answers_table(const Comparison& c) {
    std::string out = open_table("The answers", {" ", c.first.name, c.second.name, "change"});
    for (const Criterion& row : criterion_table) {
        if (!on_pages(row, false)) continue;
        const double a = c.first.criteria.*row.member, b = c.second.criteria.*row.member;
        out += fmt::format("<tr><th scope=\"row\">{}, {}</th>", row.label, row.unit) +
               table_cell(decimal(a, row.decimals)) + table_cell(decimal(b, row.decimals)) +
               table_cell(change(a, b, row.decimals)) + "</tr>";
    }
    return out + table_end;
}

std::string files_table(const Comparison& c, const std::vector<FileDifference>& files) {
    if (files.empty()) return "<p>The two room files say the same.</p>";
    std::string out =
        open_table("The room files", {" key", " " + c.first.name, " " + c.second.name});
    for (const FileDifference& row : files) {
        const auto value = [](const std::string& text) {
            return "<td class=\"words\">" + (text.empty() ? "-" : isolated(text)) + "</td>";
        };
        out += "<tr><th scope=\"row\">" + isolated(row.key) + "</th>" + value(row.first) +
               value(row.second) + "</tr>";
    }
    return out + table_end;
}

CurveChart over_frequency(const Comparison& c, const char* id, const char* title,
                          const char* caption, const char* y_title) {
    CurveChart chart;
    chart.id = id, chart.title = title, chart.caption = caption;
    chart.x_title = "frequency, Hz", chart.x_unit = "Hz";
    chart.y_title = y_title, chart.y_unit = "dB";
    chart.x = c.frequency;
    return chart;
}

CurveChart curves(const Comparison& c) {
    CurveChart chart = over_frequency(c, "averages", "Average over the seats",
                                      "Before any equaliser.", "level, dB");
    chart.curves = {{c.first.name, c.first.average_db, chart_colour(0), "", 2},
                    {c.second.name, c.second.average_db, chart_colour(1), "7 3", 2}};
    return chart;
}

CurveChart difference(const Comparison& c) {
    CurveChart chart = over_frequency(c, "difference", "Difference", "The second less the first.",
                                      "difference, dB");
    chart.curves = {{"difference", c.difference_db, chart_colour(2), "", 2}};
    return chart;
}

}  // namespace

std::string compare_page(const Comparison& c, const std::vector<FileDifference>& files,
                         const std::string& version) {
    return open_page(c.first.name + " and " + c.second.name, version) + "<header><h1>" +
           isolated(comparison_words(c)) + "</h1></header>\n" +
           section("answers", "In numbers", answers_table(c)) +
           section("curves", "At the seats", chart_html(curves(c)) + chart_html(difference(c))) +
           section("files", "In the files", files_table(c, files)) +
           fmt::format("<footer>boxroom {}</footer></main><script>{}</script></body></html>\n",
                       escape_html(version), chart_script());
}

}  // namespace boxroom
