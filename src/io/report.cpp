#include "io/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '&') out += "&amp;";
        else if (c == '<') out += "&lt;";
        else if (c == '>') out += "&gt;";
        else if (c == '"') out += "&quot;";
        else out += c;
    }
    return out;
}

std::string base64(const std::string& bytes) {
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0);
        for (std::size_t k = 0; k < 4; ++k)
            out += i + k <= bytes.size() ? digits[group >> (18 - 6 * k) & 63] : '=';
    }
    return out;
}

struct Curve {
    std::string name, colour, dash;
    std::vector<double> value;
    double width;
};

/// An inline SVG of curves over x; the script reads data-* and shows the values at the pointer.
std::string chart(const std::string& title, const std::string& x_title, const std::string& y_title,
                  const std::vector<double>& x, const std::vector<Curve>& curves, bool logarithmic,
                  const std::vector<double>& ticks) {
    double low = 1e9, high = -1e9;
    for (const Curve& c : curves)
        for (double v : c.value) low = std::min(low, v), high = std::max(high, v);
    const double step = high - low > 40 ? 10 : high - low > 12 ? 5 : high - low > 4 ? 1 : 0.5;
    low = std::max(std::floor(low / step) * step, high - 60), high = std::ceil(high / step) * step;
    if (high <= low) high = low + step;
    const double left = 62, right = 700, top = 12, bottom = 300;
    const auto across = [&](double v) {
        const double share = logarithmic ? std::log(v / x.front()) / std::log(x.back() / x.front())
                                         : (v - x.front()) / (x.back() - x.front());
        return left + share * (right - left);
    };
    const auto up = [&](double v) {
        return bottom - (std::clamp(v, low, high) - low) / (high - low) * (bottom - top);
    };
    std::string svg = fmt::format(
        "<figure><h2>{0}</h2><svg viewBox='0 0 720 350' role='img' aria-label='{0}' tabindex='0' "
        "class='chart'>", escaped(title));
    for (double v = std::ceil(low / step) * step; v <= high + 1e-9; v += step)
        svg += fmt::format("<path class='grid' d='M{0} {2:.1f}H{1}'/><text x='{3}' y='{4:.1f}' "
                           "text-anchor='end'>{5:g}</text>", left, right, up(v), left - 6,
                           up(v) + 4, v);
    for (double t : ticks)
        if (t >= x.front() - 1e-9 && t <= x.back() + 1e-9)
            svg += fmt::format("<path class='grid' d='M{0:.1f} {1}V{2}'/><text x='{0:.1f}' y='{3}' "
                               "text-anchor='middle'>{4:g}</text>", across(t), top, bottom,
                               bottom + 17, t);
    for (const Curve& c : curves) {
        svg += fmt::format("<polyline fill='none' stroke='{}' stroke-width='{}' "
                           "stroke-dasharray='{}' points='", c.colour, c.width, c.dash);
        for (std::size_t i = 0; i < x.size(); ++i)
            svg += fmt::format("{:.1f},{:.1f} ", across(x[i]), up(c.value[i]));
        svg += "'/>";
    }
    svg += fmt::format("<path class='cursor' d=''/><text x='381' y='340' text-anchor='middle'>{}"
                       "</text><text transform='translate(15 156) rotate(-90)' "
                       "text-anchor='middle'>{}</text></svg><p class='legend'>",
                       escaped(x_title), escaped(y_title));
    std::string data = "[";
    for (const Curve& c : curves) {
        svg += fmt::format("<span><svg width='30' height='8'><path d='M0 4H30' stroke='{}' "
                           "stroke-width='{}' stroke-dasharray='{}'/></svg> <bdi>{}</bdi></span> ",
                           c.colour, c.width, c.dash, escaped(c.name));
        data += fmt::format("{}[{:.2f}]", data.size() > 1 ? "," : "", fmt::join(c.value, ","));
    }
    return svg + fmt::format("</p><p class='readout' aria-live='polite'>Point at the curves, or use "
                             "the arrow keys, to read values.</p><script type='application/json'>"
                             "{{\"x\":[{:.4f}],\"log\":{},\"y\":{}]}}</script></figure>\n",
                             fmt::join(x, ","), logarithmic, data);
}

constexpr const char* head = R"(<meta name="viewport" content="width=device-width,initial-scale=1">
<style>body{font:17px/1.5 Georgia,serif;max-width:46rem;margin:2rem auto;padding:0 1rem;color:#1d2430;
background:#fffdf8;overflow-wrap:anywhere}h1{font-size:1.6rem;line-height:1.3}h2{font-size:1.1rem;
margin-top:2rem}figure{margin:1.5rem 0}svg.chart{width:100%;background:#fff}svg text{font:13px
sans-serif;fill:#333}.grid{stroke:#ddd}.cursor{stroke:#000}.legend span{margin-right:1rem;
white-space:nowrap}.legend,.readout,table{font:14px/1.5 sans-serif}.scroll{overflow-x:auto}
table{border-collapse:collapse;width:100%}td,th{padding:.2rem .5rem;text-align:right;
border-bottom:1px solid #ccc}img{width:100%}pre{white-space:pre-wrap;font-size:13px}
@media print{body{margin:0;max-width:none}figure{break-inside:avoid}details{display:none}}</style>)";

constexpr const char* script = R"(<script>
for (const figure of document.querySelectorAll('figure')) {
  const svg = figure.querySelector('svg.chart');
  if (!svg) continue;
  const data = JSON.parse(figure.querySelector('script').textContent);
  const names = [...figure.querySelectorAll('.legend bdi')].map(n => n.textContent);
  const out = figure.querySelector('.readout'), cursor = figure.querySelector('.cursor');
  const n = data.x.length, a = data.x[0], b = data.x[n - 1];
  const share = v => data.log ? Math.log(v / a) / Math.log(b / a) : (v - a) / (b - a);
  let at = n >> 1;
  const show = i => { at = Math.max(0, Math.min(n - 1, i));
    cursor.setAttribute('d', 'M' + (62 + 638 * share(data.x[at])) + ' 12V300');
    out.textContent = data.x[at].toPrecision(3) + ': ' +
      names.map((name, k) => name + ' ' + data.y[k][at].toFixed(1) + ' dB').join('; '); };
  svg.addEventListener('pointermove', e => { const r = svg.getBoundingClientRect();
    const want = ((e.clientX - r.left) / r.width * 720 - 62) / 638; let best = 0;
    data.x.forEach((v, i) => { if (Math.abs(share(v) - want) < Math.abs(share(data.x[best]) - want)) best = i; });
    show(best); });
  svg.addEventListener('keydown', e => { const d = {ArrowLeft: -1, ArrowRight: 1}[e.key];
    if (d) { e.preventDefault(); show(at + d); } });
}</script>)";

}  // namespace

std::string html_report(const ReportInput& in) {
    const Plan& plan = in.plan;
    const Listening& at = plan.at_build;
    std::string page = fmt::format(
        "<!doctype html><html lang='en'><head><meta charset='utf-8'><title>{0}</title>{1}</head>"
        "<body><p dir='auto'>{0}</p><h1>{2}</h1><p>{3}</p><p>{4}</p><p>{5}</p>",
        escaped(in.scenario.title), head, escaped(plan.recommendation), escaped(plan.reason_spot),
        escaped(plan.reason_box), escaped(plan.how_much));

    // 1. The response at the seats. Colours: Okabe & Ito's colour-blind-safe set.
    const char* colours[] = {"#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00"};
    const char* dashes[] = {"", "6 3", "2 3", "9 3 2 3"};
    std::vector<Curve> curves;
    const std::size_t seats = at.seats.size();
    for (std::size_t s = 0; s < seats; ++s) {
        Curve c{at.seats[s].name, colours[s % 6], dashes[s % 4], {}, 1.2};
        for (std::size_t f = 0; f < at.frequency.size(); ++f)
            c.value.push_back(at.level_db[f * seats + s]);
        curves.push_back(c);
    }
    curves.push_back({"seat average", "#000000", "", at.seat_average_db, 2.6});
    curves.push_back({"half space, 1 m", "#767676", "8 4", at.half_space_db, 1.6});
    curves.push_back({"target", "#767676", "2 2", at.target_db, 1.2});
    const std::vector<double> ticks{10, 20, 30, 40, 60, 80, 100, 120, 150, 200};
    page += chart("Level at the seats, box at the chosen spot", "frequency, Hz",
                  at.absolute ? "level, dB re 20 uPa at 2.83 V" : "level, dB re passband at 1 m",
                  at.frequency, curves, true, ticks);
    page += chart("Build and textbook box, seat average", "frequency, Hz", "level, dB", at.frequency,
                  {{"box to build", "#0072b2", "", at.seat_average_db, 2},
                   {"Qtc nearest 0.707", "#d55e00", "6 3", plan.at_textbook.seat_average_db, 2}},
                  true, ticks);

    // 2. Box size: balance by Qtc.
    std::vector<double> qtc;
    Curve open{"half space", "#d55e00", "6 3", {}, 2}, room{"in this room", "#0072b2", "", {}, 2};
    for (const BoxOption& box : plan.boxes) {
        qtc.push_back(box.qtc);
        open.value.push_back(box.half_space_balance_db);
        room.value.push_back(box.in_room_balance_db);
    }
    if (qtc.size() > 1 && qtc.back() > qtc.front())
        page += chart("Balance by Qtc: lower is flatter", "Qtc", "balance, dB", qtc, {open, room},
                      false, {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.5, 2.0});
    for (const FloorMap& map : plan.maps)
        if (const auto png = in.map_png.find(map.name); png != in.map_png.end())
            page += fmt::format("<figure><img alt='{0}' src='data:image/png;base64,{1}'>"
                                "<figcaption>{0}</figcaption></figure>",
                                escaped(map.title), base64(png->second));

    // 3. The spots.
    page += "<h2>The ten best spots</h2><div class='scroll'><table><tr><th>rank<th>from left<th>from "
            "front<th>facing<th>spread, dB<th>unevenness, dB<th>balance, dB<th>reach, Hz</tr>";
    for (std::size_t n = 0; n < plan.spots.size() && n < 10; ++n) {
        const RankedSpot& s = plan.spots[n];
        page += fmt::format("<tr><td>{}<td>{}<td>{}<td>{}<td>{:.1f}<td>{:.1f}<td>{:.1f}<td>{:.0f}</tr>",
                            s.rank, format_length(s.footprint.x, in.units),
                            format_length(s.footprint.y, in.units), s.facing,
                            s.criteria.spread_db, s.criteria.unevenness_db, s.criteria.balance_db,
                            s.criteria.reach_hz);
    }
    page += "</table></div><h2>How far to trust it</h2><p>Published comparisons of such models with "
            "measured rooms agree within about 5 dB (Building Acoustics 13(2), 2006). The room is a "
            "rectangle with six uniform, locally reacting walls, empty of furniture; wall data below "
            "125 Hz are extrapolated.</p><ul>";
    for (const std::string& warning : in.warnings) page += "<li>" + escaped(warning) + "</li>";
    page += "</ul><h2>Take care</h2><ul>";
    for (const std::string& caution : plan.cautions) page += "<li>" + escaped(caution) + "</li>";
    return page + "</ul><details><summary>The room file</summary><pre dir='auto'>" +
           escaped(in.scenario.source_text) + "</pre></details><p>boxroom " + escaped(in.version) +
           "</p>" + script + "</body></html>\n";
}

}  // namespace boxroom
