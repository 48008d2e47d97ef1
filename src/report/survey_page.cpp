#include "report/survey_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/number.hpp"
#include "report/chart_picture.hpp"
#include "report/curve_chart.hpp"
#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/page_frame.hpp"
#include "report/page_text.hpp"

namespace boxroom {
namespace {

std::string breaking_cell(const std::string& text) {
    return "<td class=\"words\">" + text + "</td>";
}

std::string head_cell(const std::string& text) {
    return "<tr><th scope=\"row\" class=\"words\">" + isolated(text) + "</th>";
}

/// "0.85 (0.62 to 1.10)": the middle, and between what four rooms of five lie.
std::string spread(const Quantiles& q, int decimals) {
    if (q.rooms == 0) return "-";
    return fmt::format("{} ({}&nbsp;to&nbsp;{})", decimal(q.middle, decimals),
                       decimal(q.low, decimals), decimal(q.high, decimals));
}

/// "34 % (33 to 35)": the share, and what chance leaves open.
std::string share(const Share& s) {
    if (s.rooms == 0) return "-";
    return fmt::format("{:.0f}&nbsp;% ({:.0f}&nbsp;to&nbsp;{:.0f})", 100 * s.share, 100 * s.low,
                       100 * s.high);
}

CurveChart in_percent(const char* id, const char* title, const char* caption,
                      const std::vector<double>& x, const std::vector<Cumulative>& curves) {
    CurveChart chart;
    chart.id = id, chart.title = title, chart.caption = caption;
    chart.y_title = "rooms, %", chart.y_unit = "%", chart.y_decimals = 0;
    chart.x = x, chart.logarithmic = false, chart.from_zero = true, chart.deepest = 110;
    for (std::size_t n = 0; n < curves.size(); ++n) {
        ChartCurve curve{curves[n].name, {}, chart_colour(n), chart_dash(n), n == 0 ? 2.5 : 1.5};
        for (const double value : curves[n].share) curve.value.push_back(100 * value);
        chart.curves.push_back(std::move(curve));
    }
    return chart;
}

/// Marks where the textbook's box stands on the first curve.
void mark_textbook(const SurveyFindings& f, const std::vector<Cumulative>& curves,
                   CurveChart& chart) {
    constexpr double textbook = 0.707;
    for (std::size_t n = 1; n < f.qtc.size() && !curves.empty(); ++n)
        if (f.qtc[n - 1] < textbook && f.qtc[n] >= textbook)
            chart.marks.push_back(
                {ChartMark::Shape::triangle, "Qtc 0.707", textbook, 100 * curves.front().share[n]});
}

CurveChart rule_chart(const SurveyFindings& f) {
    CurveChart chart = in_percent(
        "build_qtc", "The box by one rule, in rooms and on an endless floor",
        "Share of rooms where the smallest box within 0.5 dB of the flattest has this Qtc or less.",
        f.qtc, f.build_qtc);
    chart.x_title = "Qtc of that box", chart.x_decimals = 2;
    mark_textbook(f, f.build_qtc, chart);
    return chart;
}

CurveChart best_chart(const SurveyFindings& f) {
    CurveChart chart =
        in_percent("best_qtc", "The flattest box alone",
                   "The same for the best balance. The first and the last step are the ends of the "
                   "sweep of boxes.",
                   f.qtc, f.best_qtc);
    chart.x_title = "Qtc of the box with the best balance", chart.x_decimals = 2;
    mark_textbook(f, f.best_qtc, chart);
    return chart;
}

std::string groups_table(const SurveyFindings& f) {
    std::string out = open_table(
        "Qtc by construction and size: the middle room, and between what four of five lie",
        {" house", " room", "rooms", "flattest in the room", "on an endless floor",
         "by the rule in the room", "on an endless floor", "0.707 is within 0.5 dB"});
    const auto row = [&](const BoxFindings& one) {
        out += head_cell(one.house.empty() ? "all" : one.house) +
               breaking_cell(one.size.empty() ? "all" : escape_html(one.size)) +
               table_cell(counted(one.best_qtc.rooms)) + table_cell(spread(one.best_qtc, 2)) +
               table_cell(spread(one.half_space_qtc, 2)) + table_cell(spread(one.build_qtc, 2)) +
               table_cell(spread(one.half_space_build_qtc, 2)) +
               table_cell(share(one.textbook_good)) + "</tr>";
    };
    row(f.all);
    for (const BoxFindings& one : f.groups) row(one);
    return out + table_end;
}

/// A rule as people quote it, and what was found in these rooms.
std::string rules_table(const SurveyFindings& f) {
    std::string out = open_table("Rules as they are quoted, and these rooms",
                                 {" the rule", " what was looked at", "found", "rooms"});
    const auto row = [&](const char* rule, const char* looked, const std::string& found,
                         long long rooms) {
        out += head_cell(rule) + breaking_cell(looked) + table_cell(found) +
               table_cell(counted(rooms)) + "</tr>";
    };
    row("Qtc 0.707 is the right box", "rooms where it is within 0.5 dB of the best balance",
        share(f.all.textbook_good), f.all.textbook_good.rooms);
    row("", "what 0.707 gives away in balance, dB", spread(f.textbook_loss, 1),
        f.textbook_loss.rooms);
    row("", "rooms where the rule's box is smaller than on an endless floor",
        share(f.smaller_in_room), f.smaller_in_room.rooms);
    row("", "its volume over that of Qtc 0.707", spread(f.volume_ratio, 2), f.volume_ratio.rooms);
    row("Bigger is better", "rooms where the largest box is within 0.5 dB of the best",
        share(f.largest_good), f.largest_good.rooms);
    row("", "rooms where the smallest is", share(f.smallest_good), f.smallest_good.rooms);
    row("An equaliser mends the box",
        "rooms where balance with the largest, the 0.707 and the smallest box then differs by less "
        "than 0.5 dB",
        share(f.size_does_not_matter), f.size_does_not_matter.rooms);
    row("", "that difference without an equaliser, dB", spread(f.size_before, 1),
        f.size_before.rooms);
    row("", "the same behind one, dB", spread(f.size_after, 1), f.size_after.rooms);
    row("", "rooms where unevenness differs by less than 0.5 dB behind one",
        share(f.size_moves_no_unevenness), f.size_moves_no_unevenness.rooms);
    row("Put it in the corner", "rooms where the best spot of all is a corner",
        share(f.corner_wins), f.corner_wins.rooms);
    row("", "score that the best corner gives away", spread(f.corner_loss, 1), f.corner_loss.rooms);
    row("Two opposite midpoints", "spread of two subs there, alike, dB", spread(f.two_middles, 1),
        f.two_middles.rooms);
    row("", "spread of the best two, set by themselves, dB", spread(f.subs[1].spread, 1),
        f.subs[1].spread.rooms);
    row("Four midpoints", "spread of four subs there, alike, dB", spread(f.four_middles, 1),
        f.four_middles.rooms);
    row("Four corners", "spread of four subs there, alike, dB", spread(f.four_corners, 1),
        f.four_corners.rooms);
    row("", "spread of the four found, set by themselves, dB", spread(f.subs[3].spread, 1),
        f.subs[3].spread.rooms);
    return out + table_end;
}

std::string subs_table(const SurveyFindings& f) {
    std::string out = open_table(
        "What each further sub brings, and where they stand",
        {" subs", "rooms", "spread, dB", "less than with one fewer, dB", "0.5 dB less or more",
         "unevenness, dB", "equalised, dB", "in corners", "at wall middles", "opposite middles"});
    const char* const names[] = {"one", "two", "three", "four"};
    for (const SubsFindings& subs : f.subs) {
        if (subs.spread.rooms == 0) continue;
        out += head_cell(names[subs.subs - 1]) + table_cell(counted(subs.spread.rooms)) +
               table_cell(spread(subs.spread, 1)) + table_cell(spread(subs.gain, 1)) +
               table_cell(share(subs.gain_is_heard)) + table_cell(spread(subs.unevenness, 1)) +
               table_cell(spread(subs.equalised_unevenness, 1)) +
               table_cell(share(subs.in_corners)) + table_cell(share(subs.at_middles)) +
               table_cell(share(subs.opposite_middles)) + "</tr>";
    }
    return out + table_end;
}

CurveChart spread_chart(const SurveyFindings& f) {
    CurveChart chart = in_percent("spreads", "Seat-to-seat spread with one to four subs",
                                  "Share of rooms in which the best set has this spread or less.",
                                  f.spread_db, f.spreads);
    chart.x_title = "spread, dB", chart.x_unit = "dB";
    return chart;
}

/// What the findings rest on, and what they leave out.
std::string grounds(const SurveyFindings& f, const SurveyAbout& about) {
    std::string out = fmt::format(
        "<p>{} rooms of {} asked were drawn with the seed {}; in {} of them a box fits. They are "
        "those of the distributions below, not a count of houses: another population may say "
        "otherwise.</p>",
        counted(f.rooms), counted(about.asked), about.seed, counted(f.planned));
    out +=
        "<p>Each was planned as boxroom plans a room: all spots of a grid, one size of box after "
        "the other, walls that react locally, no doors ajar, no furniture but as absorption. "
        "Measured rooms differ from such models by about 5 dB (Building Acoustics 13(2), 2006).</p>"
        "<p>Sets of three and four subs were searched for quickly: in trials a full search won up "
        "to 0.1 of score. "
        "Shares stand with what chance leaves open (95 %, Wilson 1927); other numbers with what "
        "four rooms of five lie between.</p>";
    return out + "<details><summary>The distributions</summary><pre>" +
           escape_html(about.input_text) + "</pre></details>";
}

}  // namespace

std::string survey_page(const SurveyFindings& f, const SurveyAbout& about) {
    const std::string title = about.title.empty() ? "Rooms in general" : about.title;
    std::string further;
    for (const std::string& sentence : about.further)
        further += "<li>" + isolated(sentence) + "</li>";
    return open_page(title, about.version) + "<header><p class=\"title\">" + isolated(title) +
           "</p><h1>" + isolated(about.sentence) + "</h1><ul class=\"plain\">" + further +
           "</ul></header>\n" + section("rules", "Rules", rules_table(f)) +
           section("box", "Which box",
                   chart_html(rule_chart(f)) + groups_table(f) + chart_html(best_chart(f))) +
           section("subs", "How many", chart_html(spread_chart(f)) + subs_table(f)) +
           section("grounds", "What this rests on", grounds(f, about)) +
           fmt::format("<footer>boxroom {}</footer></main><script>{}</script></body></html>\n",
                       escape_html(about.version), chart_script());
}

std::string survey_picture(const SurveyFindings& f) {
    return f.planned > 0 ? chart_picture(rule_chart(f)) : "";
}

}  // namespace boxroom
