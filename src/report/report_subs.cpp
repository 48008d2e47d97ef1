#include "report/report_subs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "files/set_tables.hpp"
#include "placement/listening.hpp"
#include "report/curve_chart.hpp"
#include "report/floor_plan.hpp"
#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/live_page.hpp"
#include "report/trade_chart.hpp"
#include "tuning/biquad.hpp"
#include "tuning/draws.hpp"

namespace boxroom {
namespace {

std::string boxes(int count) {
    return fmt::format("{} box{}", count, count > 1 ? "es" : "");
}

std::string range(const Robustness& r, const Criterion& c) {
    return r.known ? decimal(r.low.*c.member, c.decimals) + " to " +
                         decimal(r.high.*c.member, c.decimals)
                   : "-";
}

std::string row(bool strong, const std::string& head, const std::vector<std::string>& cells) {
    std::string out = fmt::format("<tr{}><th scope=\"row\" class=\"words whole\">{}</th>",
                                  strong ? " class=\"chosen\"" : "", head);
    for (const std::string& cell : cells) out += "<td class=\"whole\">" + cell + "</td>";
    return out + "</tr>";
}

std::string what_each_buys(const ReportInput& in, const SubsOption& advised) {
    const bool wanted = in.scenario.judgement.target.level.has_value();
    std::vector<std::string> heads{
        " boxes",        "spread, dB", "spread, 10 to 90 %, dB", "uneven\u00adness, dB",
        "equalised, dB", "level, dB",  "plays clean, equalised", "reach"};
    if (wanted) heads.push_back("smallest box that is loud enough");
    std::string out = open_table("What each number of boxes buys", heads);
    for (const SubsOption& option : in.subs->options) {
        const RankedSet& set = option.chosen();
        const Criteria& c = set.criteria;
        std::vector<std::string> cells{
            decimal(c.spread_db, 1),
            range(set.robustness, criterion(&Criteria::spread_db)),
            decimal(c.unevenness_db, 1),
            decimal(set.after.unevenness_db, 1),
            decimal(c.level_db, 1),
            option.loudest.known()
                ? fmt::format("{} dB ({}, {:.0f} Hz)", decimal(option.loudest.level_db, 0),
                              option.loudest.limited_by, option.loudest.at_hz)
                : "unknown",
            decimal(set.after.reach_hz, 0) + " Hz"};
        if (wanted)
            cells.push_back(option.smallest_volume > 0 ? volume_html(option.smallest_volume, in)
                                                       : "none tried");
        const bool strong = &option == &advised;
        out += row(strong, boxes(option.subs()) + (strong ? " advised" : ""), cells);
    }
    return out + table_end;
}

std::string settings(const ReportInput& in, const SubsOption& option) {
    const RankedSet& set = option.chosen();
    std::vector<std::string> heads{" box", " driver faces", "from left wall", "from front wall",
                                   "gain", "delay",         "polarity"};
    if (!set.volumes.empty()) heads.push_back("net volume");
    std::string out = open_table("To dial in: " + boxes(option.subs()), heads);
    for (std::size_t k = 0; k < set.settings.size(); ++k) {
        const Dial& s = set.settings[k];
        out += fmt::format(
            "<tr><th scope=\"row\" class=\"words\">{}</th><td class=\"words\">{}</td>"
            "<td class=\"whole\">{}</td><td class=\"whole\">{}</td><td class=\"whole\">{} dB</td>"
            "<td class=\"whole\">{} ms</td><td>{}</td>{}</tr>",
            k + 1, facing_name(set.facings[k]), length_html(set.footprints[k].x, in),
            length_html(set.footprints[k].y, in), decimal(s.gain_db, 1), decimal(s.delay * 1e3, 1),
            s.polarity > 0 ? "+" : "\u2212",
            set.volumes.empty()
                ? ""
                : "<td class=\"whole\">" + volume_html(set.volumes[k], in) + "</td>");
    }
    return out + table_end;
}

std::string download(const std::string& name, const char* type, const std::string& content) {
    return fmt::format("<a download=\"{0}\" href=\"data:{1};base64,{2}\">{0}</a>", name, type,
                       base64(content));
}

std::string equaliser(const SubsOption& option) {
    const auto& filters = option.chosen().equaliser;
    std::string out;
    if (filters.empty()) {
        out = "<p class=\"note\">No filter would help by 0.1 dB.</p>";
    } else {
        out = open_table("Equaliser, the same for all boxes: " + boxes(option.subs()),
                         {" filter", " kind", "frequency", "gain", "Q"});
        for (std::size_t n = 0; n < filters.size(); ++n)
            out += fmt::format(
                "<tr><th scope=\"row\" class=\"words\">{}</th><td class=\"words\">{}</td>"
                "<td class=\"whole\">{} Hz</td><td class=\"whole\">{} dB</td><td>{}</td></tr>",
                n + 1, filter_name(filters[n].kind), decimal(filters[n].frequency, 1),
                decimal(filters[n].gain_db, 1), decimal(filters[n].q, 2));
        out += table_end;
    }
    const std::string name = fmt::format("equaliser_{}_subs", option.subs());
    return out +
           "<p class=\"note\">Coefficients for a signal processor at 48 and 96 kHz, with a0 = 1 "
           "and "
           "y[n] = b0 x[n] + b1 x[n\u22121] + b2 x[n\u22122] \u2212 a1 y[n\u22121] \u2212 a2 "
           "y[n\u22122]: " +
           download(name + ".csv", "text/csv", equaliser_csv(filters)) + ", " +
           download(name + ".json", "application/json", equaliser_json(filters)) + ".</p>\n";
}

/// Curves inside the band, gaps outside.
std::vector<double> in_band(std::vector<double> curve, const Listening& heard, const Band& band) {
    for (std::size_t f = 0; f < std::min(curve.size(), heard.frequency.size()); ++f)
        if (!band.contains(heard.frequency[f])) curve[f] = std::numeric_limits<double>::quiet_NaN();
    return curve;
}

CurveChart over_frequency(const std::string& id, const std::string& title, const ReportInput& in,
                          const Listening& heard) {
    CurveChart chart;
    chart.id = id, chart.title = title;
    chart.x = heard.frequency;
    chart.x_title = "frequency, Hz", chart.x_unit = "Hz", chart.y_unit = "dB";
    chart.shade_from = in.scenario.judgement.target.band.low,
    chart.shade_to = in.scenario.judgement.target.band.high;
    return chart;
}

std::string equalised_chart(const ReportInput& in, const SubsOption& option) {
    const Listening& heard = option.heard;
    CurveChart chart = over_frequency(
        "equalised", boxes(option.subs()) + ", before and after equalisation", in, heard);
    chart.caption =
        "Seat average of the boxes with their settings, at 2.83 V each. The equaliser takes peaks "
        "away, boosts little, and leaves nulls alone: filling them would only spend power.";
    chart.y_title = heard.absolute ? "level, dB re 20 uPa at 2.83 V"
                                   : "level, dB re passband at 1 m in half space";
    chart.curves.push_back({"before", heard.seat_average_db, chart_colour(1), "7 4", 2});
    chart.curves.push_back({"equalised", option.equalised_db, chart_colour(0), "", 3});
    std::vector<double> target = heard.target_db;  // at the level that the equaliser leaves
    for (double& level : target) level += option.chosen().after.level_db - heard.criteria.level_db;
    chart.curves.push_back(
        {"target", in_band(target, heard, in.scenario.judgement.target.band), ink, "1.5 4", 2.4});
    return chart_html(chart);
}

std::string spreads_chart(const ReportInput& in) {
    const auto& options = in.subs->options;
    if (options.size() < 2) return "";
    CurveChart chart = over_frequency("spreads", "How far the seats differ, by number of boxes", in,
                                      options.front().heard);
    chart.caption = "The robust choice of each number, with its settings.";
    chart.y_title = "spread, dB";
    chart.from_zero = true;
    for (std::size_t n = 0; n < options.size(); ++n)
        chart.curves.push_back({boxes(options[n].subs()), spread_by_frequency(options[n].heard),
                                chart_colour(n), chart_dash(n), 2.2});
    return chart_html(chart);
}

std::string front_table(const ReportInput& in) {
    std::string out = open_table("Sets of which no other is better in everything",
                                 {" boxes", "spread, dB", "uneven\u00adness, dB", "level, dB",
                                  " centres, from the left and from the front wall"});
    for (const TradeOff& one : in.subs->front) {
        std::string places;
        for (const Point& p : one.set.footprints)
            places +=
                (places.empty() ? "" : "; ") + length_html(p.x, in) + ", " + length_html(p.y, in);
        const Criteria& c = one.set.criteria;
        out += fmt::format(
            "<tr{}><th scope=\"row\" class=\"words whole\">{}{}</th><td>{}</td><td>{}</td>"
            "<td>{}</td><td class=\"long\">{}</td></tr>",
            one.chosen ? " class=\"chosen\"" : "", one.subs, one.chosen ? " chosen" : "",
            decimal(c.spread_db, 1), decimal(c.unevenness_db, 1), decimal(c.level_db, 1), places);
    }
    return "<details><summary>All " + std::to_string(in.subs->front.size()) +
           " of them, as a table</summary>" + out + table_end + "</details>\n";
}

/// The first sets of a number and how they fare when the inputs are wrong.
std::string robustness(const ReportInput& in, const SubsOption& option) {
    std::string note = "<p class=\"note\">" + escape_html(option.ranking.reason) + "</p>\n";
    if (!option.chosen().robustness.known) return note;
    const Uncertainty& by = in.scenario.judgement.uncertainty;
    const DriverParts widest = widest_parts(by.driver);
    std::vector<std::string> heads{" rank", "draws won"};
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false)) heads.push_back(criterion_head(c));
    std::string out =
        open_table("How sure: " + boxes(option.subs()) + ", 10 to 90 % of the draws", heads);
    for (std::size_t n = 0; n < option.ranking.sets.size(); ++n) {
        const RankedSet& set = option.ranking.sets[n];
        const Robustness& r = set.robustness;
        if (!r.known) break;  // the first ten are drawn
        const bool chosen = static_cast<int>(n) == option.ranking.choice;
        std::vector<std::string> cells{decimal(100 * r.share_of_wins, 0) + " %"};
        for (const Criterion& c : criterion_table)
            if (on_pages(c, false)) cells.push_back(range(r, c));
        out += row(chosen, fmt::format("{}{}", set.rank, chosen ? " chosen" : ""), cells);
    }
    return note + out + table_end +
           fmt::format(
               "<p class=\"note\">{} draws: seats \u00b1{:.0f} cm, boxes \u00b1{:.0f} cm, room "
               "{}, walls by a factor of up to {:g}; the driver\u2019s suspension "
               "by {:.0f} %, its moving mass, coil and magnet by {:.0f} %; [robustness] in the "
               "room file sets them.</p>\n",
               by.draws, 100 * by.seat, 100 * by.sub,
               in.scenario.acoustics.room.is_rectangle()
                   ? fmt::format("\u00b1{:.0f} cm", 100 * by.room)
                   : "as it is",
               by.wall, 100 * (widest.compliance - 1), 100 * (widest.mass - 1));
}

}  // namespace

std::string subs_section(const ReportInput& in) {
    if (!in.subs || in.subs->options.empty()) return "";
    const SubsOption& advised = in.subs->options[static_cast<std::size_t>(in.subs->advice)];
    std::string out =
        "<p class=\"note\"><strong>" + escape_html(in.subs->how_many) + "</strong> " +
        (in.scenario.wanted.set_volumes.empty() ? ""
                                                : "Each may be any box of [search] volumes. ") +
        "How it was searched: " + escape_html(advised.ranking.method) + ".</p>\n" +
        what_each_buys(in, advised) + "<div class=\"floor\">" +
        set_plan_svg(in, advised.ranking, advised.chosen()) + "<div>" + settings(in, advised) +
        "</div></div>\n" + equaliser(advised) + equalised_chart(in, advised) + spreads_chart(in) +
        trade_chart_html(*in.subs) + front_table(in) + robustness(in, advised);
    for (const SubsOption& option : in.subs->options) {
        if (&option == &advised) continue;
        out += "<details><summary>" + boxes(option.subs()) +
               ": settings, equaliser, how sure</summary>" + settings(in, option) +
               equaliser(option) + robustness(in, option) + "</details>\n";
    }
    return out;
}

}  // namespace boxroom
