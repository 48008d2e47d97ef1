#include "report/report_build.hpp"

#include <fmt/format.h>

#include "base/workshop_units.hpp"
#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/report_tables.hpp"

namespace boxroom {
namespace {

constexpr double foot3 = 0.3048 * 0.3048 * 0.3048;

std::string volumes(const BoxBuild& b) {
    std::vector<double> litres, feet;
    for (const VolumeItem& item : b.volumes)
        litres.push_back(item.volume * 1e3), feet.push_back(item.volume / foot3);
    litres = rounded_parts(litres, 0.1), feet = rounded_parts(feet, 0.001);
    std::string out = open_table("Volumes", {" part", "litres", "cubic feet", " how it is known"});
    double sum_litres = 0, sum_feet = 0;
    for (std::size_t n = 0; n < litres.size(); ++n) {
        sum_litres += litres[n], sum_feet += feet[n];
        out += fmt::format(
            "<tr><th scope=\"row\" class=\"words\">{}{}</th><td>{:.1f}</td><td>{:.3f}</td>"
            "<td class=\"long\">{}</td></tr>",
            n ? "+ " : "", escape_html(b.volumes[n].name), litres[n], feet[n],
            escape_html(b.volumes[n].rule));
    }
    return out + fmt::format(
                     "<tr class=\"chosen\"><th scope=\"row\" class=\"words\">= inside the "
                     "panels</th><td>{:.1f}</td><td>{:.3f}</td><td></td></tr></tbody>"
                     "</table></div>\n",
                     sum_litres, sum_feet);
}

std::string cut_list(const BoxBuild& b) {
    std::string out = open_table("Cut list", {" on the sheet", " piece", "count", "length, mm",
                                              "width, mm", "length, in", "width, in"});
    const auto bare = [](std::string text) { return text.substr(0, text.rfind(' ')); };
    int line = 0;
    for (const Panel& p : b.panels)
        out += fmt::format(
            "<tr><td class=\"words\">{}</td><th scope=\"row\" class=\"words\">{}</th>"
            "<td>{}</td><td>{}</td>"
            "<td>{}</td><td>{}</td><td>{}</td></tr>",
            piece_letter(line++), escape_html(p.name), p.count, bare(format_millimetres(p.length)),
            bare(format_millimetres(p.width)), bare(format_sixteenths(p.length)),
            bare(format_sixteenths(p.width)));
    return out + table_end;
}

}  // namespace

std::string build_html(const BoxBuild& b, const std::vector<std::string>& drawings, Units units) {
    std::string out = fmt::format(
        "<p class=\"note\">Outside {} wide, {} deep, {} high; {} of {}, {} joints. About {}. "
        "{} sheet{} of {} \u00d7 {}, {:.0f} % of {} is left over.</p>\n",
        format_both(b.outer.width, units), format_both(b.outer.depth, units),
        format_both(b.outer.height, units), format_both(b.thickness, units),
        escape_html(b.material), b.joint, format_weight(b.weight, units), b.cutting.sheets,
        b.cutting.sheets > 1 ? "s" : "", format_both(b.cutting.sheet_length, units),
        format_both(b.cutting.sheet_width, units), 100 * b.cutting.waste,
        b.cutting.sheets > 1 ? "them" : "it");
    out += volumes(b) + cut_list(b);
    for (std::size_t n = 0; n < drawings.size(); ++n)
        out += fmt::format(
            "<div class=\"scroll drawing\" role=\"region\" tabindex=\"0\" "
            "aria-label=\"Drawing {} of {}\">{}</div>\n",
            n + 1, drawings.size(), drawings[n]);
    return out + "<h3>Worth knowing</h3>" + text_list(b.remarks) + "<h3>In the workshop</h3>" +
           text_list(b.cautions);
}

}  // namespace boxroom
