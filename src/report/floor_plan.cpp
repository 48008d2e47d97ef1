#include "report/floor_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"
#include "report/live_page.hpp"
#include "report/report_charts.hpp"
#include "solvers/floor_outline.hpp"

namespace boxroom {
namespace {

constexpr double left = 44, top = 40, right = 14, bottom = 30;  // margins, in the SVG's units

struct Scale {
    double factor;  ///< units a metre
    double x(double metres) const { return left + metres * factor; }
    double y(double metres) const { return top + metres * factor; }
};

/// Ticks along both walls: each metre, or each 2 ft (5 ft in long rooms), with a number.
std::string ticks(const Room& room, const Scale& scale, Units units) {
    const double unit = units == Units::metric ? 1 : 0.3048;
    const double step =
        units == Units::metric ? (room.length > 12 ? 2 : 1) : (room.length > 9 ? 5 : 2);
    std::string out;
    for (double v = 0; v * unit <= room.width + 1e-9; v += step)
        out += fmt::format(
            "<path class=\"tick\" d=\"M{0:.1f} {1:.1f}v5\"/><text x=\"{0:.1f}\" "
            "y=\"{2:.1f}\" text-anchor=\"middle\">{3:g}</text>",
            scale.x(v * unit), scale.y(room.length), scale.y(room.length) + 19, v);
    for (double v = 0; v * unit <= room.length + 1e-9; v += step)
        out += fmt::format(
            "<path class=\"tick\" d=\"M{0:.1f} {1:.1f}h-5\"/><text x=\"{2:.1f}\" "
            "y=\"{3:.1f}\" text-anchor=\"end\">{4:g}</text>",
            left, scale.y(v * unit), left - 8, scale.y(v * unit) + 4.5, v);
    return out + fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}</text>", left - 8,
                             top - 10, units == Units::metric ? "m" : "ft");
}

/// Slanted lines over a rectangle: x + y constant, each clipped to it.
std::string hatching(double x, double y, double w, double h) {
    std::string out;
    for (double c = 9; c < w + h; c += 9) {
        const double from = std::max(0.0, c - h), to = std::min(c, w);
        out +=
            fmt::format("M{:.1f} {:.1f}L{:.1f} {:.1f}", x + from, y + c - from, x + to, y + c - to);
    }
    return "<path d=\"" + out + "\"/>";
}

std::string keep_outs(const Scenario& s, const Scale& scale) {
    std::string out;
    for (const KeepOut& k : s.wanted.keep_outs) {
        const double x = scale.x(k.x0), y = scale.y(k.y0), w = (k.x1 - k.x0) * scale.factor,
                     h = (k.y1 - k.y0) * scale.factor;
        out += fmt::format(
            "<g class=\"keep-out\"><title>{}</title><rect x=\"{:.1f}\" y=\"{:.1f}\" "
            "width=\"{:.1f}\" height=\"{:.1f}\"/>{}",
            escape_html("kept free: " + k.name), x, y, w, h, hatching(x, y, w, h));
        // A name stands there only if it has room.
        const auto fitting = static_cast<int>(std::max(w, 0.0) / 7);
        if (fitting >= 4 && h > 18)
            out += fmt::format(
                "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" dir=\"auto\">{}</text>",
                x + w / 2, y + std::max(h / 2 + 4, h - 7),
                escape_html(shortened_text(k.name, fitting)));
        out += "</g>";
    }
    return out;
}

std::string seats(const Scenario& s, const Scale& scale) {
    std::string out;
    for (std::size_t i = 0; i < s.seats.size(); ++i) {
        const Seat& seat = s.seats[i];
        // Names stand above and below in turn, so that those side by side keep apart.
        const double near = std::min(seat.at.x, s.acoustics.room.width - seat.at.x) * scale.factor;
        const bool middle = near > 50;
        const char* anchor = middle                                   ? "middle"
                             : 2 * seat.at.x < s.acoustics.room.width ? "start"
                                                                      : "end";
        const int fitting = middle ? static_cast<int>(2 * near / 7) : 24;
        out += fmt::format(
            "<g class=\"plan-seat\" data-seat=\"{}\" transform=\"translate({:.2f} {:.2f})\">"
            "<circle class=\"reach\" r=\"16\"/><circle class=\"seat\" r=\"7\" stroke=\"{}\"/>"
            "<text y=\"{}\" text-anchor=\"{}\" dir=\"auto\">{}</text></g>",
            i, scale.x(seat.at.x), scale.y(seat.at.y), chart_colour(i), i % 2 ? 22 : -13, anchor,
            escape_html(shortened_text(seat.name, std::min(fitting, 24))));
    }
    return out;
}

/// The box (as built) around its centre, turned as it faces; the thick edge is the side the driver
/// looks out of.
/// A number in it moves with it.
std::string box(const std::string& attributes, const Point& at, const Sides& outer, Facing facing,
                const Scale& scale, const std::string& number) {
    const Sides stands = turned(outer, facing);
    const double w = stands.width * scale.factor / 2, d = stands.depth * scale.factor / 2;
    const std::string edge =
        facing == Facing::front   ? fmt::format("M{:.2f} {:.2f}h{:.2f}", -w, -d, 2 * w)
        : facing == Facing::back  ? fmt::format("M{:.2f} {:.2f}h{:.2f}", -w, d, 2 * w)
        : facing == Facing::left  ? fmt::format("M{:.2f} {:.2f}v{:.2f}", -w, -d, 2 * d)
        : facing == Facing::right ? fmt::format("M{:.2f} {:.2f}v{:.2f}", w, -d, 2 * d)
                                  : "";
    return fmt::format(
        "<g {} transform=\"translate({:.2f} {:.2f})\"><rect class=\"reach\" x=\"-20\" "
        "y=\"-20\" width=\"40\" height=\"40\"/><rect class=\"box\" x=\"{:.2f}\" y=\"{:.2f}\" "
        "width=\"{:.2f}\" height=\"{:.2f}\"/><path class=\"cone\" d=\"{}\"/>{}</g>",
        attributes, scale.x(at.x), scale.y(at.y), -w, -d, 2 * w, 2 * d, edge,
        number.empty()
            ? ""
            : "<text class=\"number\" y=\"5\" text-anchor=\"middle\">" + number + "</text>");
}

/// The boxes of a set, numbered as in its table of settings.
std::string boxes(const SetRanking& ranking, const RankedSet& set, const EnclosureRules& rules,
                  const Scale& scale) {
    std::string out;
    for (std::size_t k = 0; k < set.footprints.size(); ++k) {
        const Sides outer = set.volumes.empty() ? ranking.outer : enclosure(set.volumes[k], rules);
        out += box("class=\"plan-sub\"", set.footprints[k], outer, set.facings[k], scale,
                   std::to_string(k + 1));
    }
    return out;
}

/// The walls as a closed path.
std::string outline_path(const Room& room, const Scale& scale) {
    std::string out;
    for (const Point& p : floor_outline(room))
        out += fmt::format("{}{:.2f} {:.2f}", out.empty() ? "M" : "L", scale.x(p.x), scale.y(p.y));
    return out + "Z";
}

/// The foremost walls, which the listeners face.
std::string front_walls(const Room& room, const Scale& scale) {
    const std::vector<Point> outline = floor_outline(room);
    std::string out;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (std::max(a.y, b.y) < 1e-6)
            out += fmt::format("M{:.2f} {:.2f}H{:.2f}", scale.x(a.x), scale.y(0), scale.x(b.x));
    }
    return out;
}

/// Opens the drawing: its size, and the floor.
std::string floor_of(const Room& room, const Scale& scale, const std::string& css,
                     const std::string& label) {
    const double width = room.width * scale.factor, length = room.length * scale.factor;
    return fmt::format(
        "<svg class=\"plan{}\" viewBox=\"0 0 {:.1f} {:.1f}\" style=\"max-width:{:.0f}px\" "
        "data-scale=\"{:.6f}\" data-x=\"{:g}\" data-y=\"{:g}\" role=\"group\" "
        "aria-label=\"{}, seen from above, front wall at the top\">"
        "<path class=\"floor\" d=\"{}\"/>",
        css, left + width + right, top + length + bottom, (left + width + right) * 1.25,
        scale.factor, left, top, label, outline_path(room, scale));
}

std::string walls(const Room& room, const Scale& scale) {
    return fmt::format(
        "<path class=\"walls\" d=\"{}\"/><path class=\"front\" d=\"{}\"/>"
        "<text x=\"{:.1f}\" y=\"{:g}\" text-anchor=\"middle\">front wall</text>",
        outline_path(room, scale), front_walls(room, scale), left + room.width * scale.factor / 2,
        top - 10);
}

/// Furniture, pillars and chimney breasts; boxes keep off them as off any kept-free ground.
std::string blocks(const Room& room, const Scale& scale) {
    std::string out;
    for (const Block& b : room.plan.blocks) {
        const double w = (b.to.x - b.from.x) * scale.factor;
        out += fmt::format(
            "<g class=\"block\"><title>{}</title><rect x=\"{:.2f}\" y=\"{:.2f}\" "
            "width=\"{:.2f}\" height=\"{:.2f}\"/></g>",
            escape_html(b.name), scale.x(b.from.x), scale.y(b.from.y), w,
            (b.to.y - b.from.y) * scale.factor);
    }
    return out;
}

/// Where the walls are open.
std::string openings(const Room& room, const Scale& scale) {
    std::string out;
    for (const Opening& o : room.plan.openings) {
        if (o.axis() == 2) continue;  // a hatch in the floor or the ceiling
        out += fmt::format(
            "<path class=\"opening\" d=\"M{:.2f} {:.2f}L{:.2f} {:.2f}\"><title>{}</title></path>",
            scale.x(o.from.x), scale.y(o.from.y), scale.x(o.to.x), scale.y(o.to.y),
            escape_html("open: " + o.name));
    }
    return out;
}

/// Ticks in the report's units, on a live page in both.
std::string all_ticks(const ReportInput& in, const Scale& scale) {
    if (!in.live.on()) return ticks(in.scenario.acoustics.room, scale, in.units);
    std::string out;
    for (const Units units : {Units::metric, Units::imperial})
        out += std::string("<g class=\"") + (units == Units::metric ? "metric" : "imperial") +
               "\">" + ticks(in.scenario.acoustics.room, scale, units) + "</g>";
    return out;
}

Scale scale_of(const Room& room) {
    return {std::min(340 / room.width, 470 / room.length)};
}

}  // namespace

std::string floor_plan_svg(const ReportInput& in) {
    const Scenario& s = in.scenario;
    const BoxOption* build = box_option(in.plan, in.plan.build);
    if (!build || !(s.acoustics.room.width > 0 && s.acoustics.room.length > 0)) return "";
    const Scale scale = scale_of(s.acoustics.room);
    std::string out = floor_of(s.acoustics.room, scale, "", "Floor plan");
    if (in.live.on())
        out += "<image id=\"plan-map\" preserveAspectRatio=\"none\" width=\"0\" height=\"0\"/>";
    std::string standing;
    for (std::size_t n = 0; n < in.decision.subs.size(); ++n) {
        const DecidedSub& sub = in.decision.subs[n];
        const std::string number = in.decision.subs.size() > 1 ? std::to_string(n + 1) : "";
        standing += box("id=\"plan-box" + (n ? "-" + number : "") + "\" class=\"plan-box\"",
                        sub.footprint, sub.outer, sub.facing, scale, number);
    }
    return out + blocks(s.acoustics.room, scale) + keep_outs(s, scale) +
           walls(s.acoustics.room, scale) + openings(s.acoustics.room, scale) +
           all_ticks(in, scale) + seats(s, scale) + standing + "</svg>";
}

std::string set_plan_svg(const ReportInput& in, const SetRanking& ranking, const RankedSet& set) {
    const Scenario& s = in.scenario;
    if (!(s.acoustics.room.width > 0 && s.acoustics.room.length > 0)) return "";
    const Scale scale = scale_of(s.acoustics.room);
    return floor_of(s.acoustics.room, scale, " still",
                    fmt::format("Floor plan with {} box{}", set.footprints.size(),
                                set.footprints.size() > 1 ? "es" : "")) +
           blocks(s.acoustics.room, scale) + keep_outs(s, scale) + walls(s.acoustics.room, scale) +
           openings(s.acoustics.room, scale) + all_ticks(in, scale) + seats(s, scale) +
           boxes(ranking, set, in.scenario.design.enclosure, scale) + "</svg>";
}

}  // namespace boxroom
