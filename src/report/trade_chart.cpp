#include "report/trade_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"

namespace boxroom {
namespace {

struct Axis {
    double low = 0, high = 1, step = 0.2;
    double share(double v) const { return (v - low) / (high - low); }
};

/// One of the two plots: spread across, something else up.
struct TradePanel {
    double left, right, top, bottom;  ///< edges, in the SVG's units
    double Criteria::*up;
    const char* title;
};

Axis axis_over(const std::vector<TradeOff>& sets, double Criteria::*member) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const TradeOff& one : sets) {
        low = std::min(low, one.set.criteria.*member);
        high = std::max(high, one.set.criteria.*member);
    }
    const double step = axis_step(std::max((high - low) / 5, 0.1));
    Axis axis{std::floor(low / step) * step, std::ceil(high / step) * step, step};
    if (axis.high - axis.low < step / 2) axis.high = axis.low + step;
    return axis;
}

/// Disc, square, triangle, diamond for one to four boxes, each about 10 across.
std::string shape(int subs, double x, double y, bool chosen) {
    const std::string colour = chart_colour(static_cast<std::size_t>(subs) - 1);
    std::string out;
    if (chosen)
        out = fmt::format("<circle class=\"choice\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"10\"/>", x, y);
    const char* const path[] = {
        "M{0:.1f} {1:.1f}m-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0z", "M{0:.1f} {1:.1f}m-4.5-4.5h9v9h-9z",
        "M{0:.1f} {1:.1f}m0-6l5.5 10h-11z", "M{0:.1f} {1:.1f}m0-6.5l5.5 6.5l-5.5 6.5l-5.5-6.5z"};
    return out + fmt::format("<path class=\"set\" fill=\"{}\" d=\"{}\"/>", colour,
                             fmt::format(fmt::runtime(path[std::clamp(subs, 1, 4) - 1]), x, y));
}

std::string grid(const TradePanel& p, const Axis& across, const Axis& up) {
    std::string svg;
    for (double k = std::round(across.low / across.step); k * across.step <= across.high + 1e-9;
         ++k) {
        const double x = p.left + across.share(k * across.step) * (p.right - p.left);
        svg += fmt::format(
            "<path class=\"grid\" d=\"M{0:.1f} {1:g}V{2:g}\"/><text x=\"{0:.1f}\" y=\"{3:g}\" "
            "text-anchor=\"middle\">{4:.{5}f}</text>",
            x, p.top, p.bottom + 4, p.bottom + 19, k * across.step + 0.0,
            across.step < 0.95 ? 1 : 0);
    }
    for (double k = std::round(up.low / up.step); k * up.step <= up.high + 1e-9; ++k) {
        const double y = p.bottom - up.share(k * up.step) * (p.bottom - p.top);
        svg += fmt::format(
            "<path class=\"grid\" d=\"M{0:g} {1:.1f}H{2:g}\"/><text x=\"{3:g}\" y=\"{4:.1f}\" "
            "text-anchor=\"end\">{5:.{6}f}</text>",
            p.left, y, p.right, p.left - 6, y + 4.5, k * up.step + 0.0, up.step < 0.95 ? 1 : 0);
    }
    return svg + fmt::format(
                     "<path class=\"frame\" d=\"M{0:g} {1:g}V{2:g}H{3:g}\"/><text x=\"{4:g}\" "
                     "y=\"{5:g}\" text-anchor=\"middle\">spread, dB</text><text "
                     "transform=\"translate({6:g} {7:g}) rotate(-90)\" "
                     "text-anchor=\"middle\">{8}</text>",
                     p.left, p.top, p.bottom, p.right, (p.left + p.right) / 2, p.bottom + 37,
                     p.left - 41, (p.top + p.bottom) / 2, p.title);
}

std::string draw(const std::vector<TradeOff>& sets, const TradePanel& p) {
    const Axis across = axis_over(sets, &Criteria::spread_db), up = axis_over(sets, p.up);
    std::string svg = grid(p, across, up);
    // The choices last, so that nothing covers them.
    for (const bool chosen : {false, true})
        for (const TradeOff& one : sets) {
            if (one.chosen != chosen) continue;
            const Criteria& c = one.set.criteria;
            svg += fmt::format(
                "<g><title>{} box{}: spread {:.1f} dB, unevenness {:.1f} dB, level {:.1f} "
                "dB</title>{}</g>",
                one.subs, one.subs > 1 ? "es" : "", c.spread_db, c.unevenness_db, c.level_db,
                shape(one.subs, p.left + across.share(c.spread_db) * (p.right - p.left),
                      p.bottom - up.share(c.*p.up) * (p.bottom - p.top), chosen));
        }
    return svg;
}

std::string legend(const std::vector<TradeOff>& sets) {
    std::string out = "<ul class=\"legend\">";
    int last = 0;
    for (const TradeOff& one : sets) {
        if (one.subs == last) continue;
        last = one.subs;
        out += fmt::format(
            "<li><svg class=\"sample\" viewBox=\"0 0 34 20\" aria-hidden=\"true\">{}</svg>{} "
            "box{}</li>",
            shape(one.subs, 17, 10, false), one.subs, one.subs > 1 ? "es" : "");
    }
    return out +
           "<li><svg class=\"sample\" viewBox=\"0 0 34 24\" aria-hidden=\"true\"><circle "
           "class=\"choice\" cx=\"17\" cy=\"12\" r=\"10\"/></svg>the robust choice</li></ul>";
}

}  // namespace

std::string trade_chart_html(const SubsPlan& plan) {
    const auto& sets = plan.front;
    if (sets.size() < 2) return "";
    constexpr double Criteria::*uneven = &Criteria::unevenness_db;
    constexpr double Criteria::*level = &Criteria::level_db;
    const TradePanel wide[] = {{62, 366, 12, 280, uneven, "unevenness, dB"},
                               {444, 748, 12, 280, level, "level, dB"}};
    const TradePanel narrow[] = {{62, 344, 10, 220, uneven, "unevenness, dB"},
                                 {62, 344, 290, 500, level, "level, dB"}};
    std::string out =
        "<figure id=\"trade-off\"><h3>Sets of which no other is better in everything</h3><p "
        "class=\"caption\">Every set of "
        "places that no other beats in spread, unevenness, level and number of boxes at once, "
        "before equalisation. Spread and unevenness are better low, level is better high: the "
        "best corners are at the bottom left and at the top left. The score only orders "
        "them.</p>";
    for (const auto& [css, height, panels] :
         {std::tuple{"wide", 326.0, wide}, std::tuple{"narrow", 546.0, narrow}}) {
        out += fmt::format(
            "<svg class=\"chart trade {}\" viewBox=\"0 0 {:g} {:g}\" role=\"img\" "
            "aria-label=\"{} sets of places, spread against unevenness and level; the same in the "
            "table below\">",
            css, css[0] == 'w' ? 760.0 : 358.0, height, sets.size());
        for (int n = 0; n < 2; ++n) out += draw(sets, panels[n]);
        out += "</svg>";
    }
    return out + legend(sets) + "</figure>\n";
}

}  // namespace boxroom
