#include "report/plan_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"
#include "solvers/floor_outline.hpp"

namespace boxroom {
namespace {

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

/// The foremost walls, which the listeners face.
std::string front_walls(const Room& room, const PlanScale& scale) {
    const std::vector<Point> outline = floor_outline(room);
    std::string out;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (std::max(a.y, b.y) < 1e-6)
            out += fmt::format("M{:.2f} {:.2f}H{:.2f}", scale.x(a.x), scale.y(0), scale.x(b.x));
    }
    return out;
}

std::string ticks(const Room& room, const PlanScale& scale, Units units) {
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
            PlanScale::left, scale.y(v * unit), PlanScale::left - 8, scale.y(v * unit) + 4.5, v);
    return out + fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}</text>",
                             PlanScale::left - 8, PlanScale::top - 10,
                             units == Units::metric ? "m" : "ft");
}

constexpr double letter_width = 7.4;  ///< of a name, on average [px]

/// Where the name of a seat stands under or over its circle, above and below in turn, so that those
/// side by side keep apart.
double seat_name_offset(std::size_t seat) {
    return seat % 2 ? 22 : -13;
}

/// The base line of a name in the middle of a rectangle [px], as low as may be; none where seats
/// leave it no room.
std::optional<double> free_line(double x, double y, double w, double h, std::size_t letters,
                                std::span<const Seat> seats, const PlanScale& scale) {
    constexpr double line = 14;
    const auto covered = [&](double base) {
        for (std::size_t n = 0; n < seats.size(); ++n) {
            const double sx = scale.x(seats[n].at.x), sy = scale.y(seats[n].at.y);
            const double apart = std::abs(sx - (x + w / 2)) - letter_width * letters / 2;
            const double named = letter_width * static_cast<double>(seats[n].name.size()) / 2;
            if (std::abs(base - 5 - sy) < 7 + line / 2 && apart < 7) return true;
            if (std::abs(base - sy - seat_name_offset(n)) < line && apart < named) return true;
        }
        return false;
    };
    for (const double base : {y + std::max(h / 2 + 4, h - 7), y + h / 2 + 4, y + line})
        if (!covered(base)) return base;
    return std::nullopt;
}

}  // namespace

PlanScale::PlanScale(const Room& room) : factor(std::min(340 / room.width, 470 / room.length)) {}

std::string plan_outline(const Room& room, const PlanScale& scale) {
    std::string out;
    for (const Point& p : floor_outline(room))
        out += fmt::format("{}{:.2f} {:.2f}", out.empty() ? "M" : "L", scale.x(p.x), scale.y(p.y));
    return out + "Z";
}

std::string plan_floor(const Room& room, const PlanScale& scale, const std::string& css,
                       const std::string& role, const std::string& label, double more) {
    const double width = room.width * scale.factor, length = room.length * scale.factor;
    constexpr double left = PlanScale::left, top = PlanScale::top, bottom = PlanScale::bottom;
    const double across = left + width + PlanScale::right;
    return fmt::format(
        "<svg class=\"plan{}\" viewBox=\"0 0 {:.1f} {:.1f}\" style=\"max-width:{:.0f}px\" "
        "data-scale=\"{:.6f}\" data-x=\"{:g}\" data-y=\"{:g}\" role=\"{}\" "
        "aria-label=\"{}, seen from above, front wall at the top\">"
        "<path class=\"floor\" d=\"{}\"/>",
        css, across, top + length + bottom + more, across * 1.25, scale.factor, left, top, role,
        label, plan_outline(room, scale));
}

std::string plan_walls(const Room& room, const PlanScale& scale) {
    return fmt::format(
        "<path class=\"walls\" d=\"{}\"/><path class=\"front\" d=\"{}\"/>"
        "<text x=\"{:.1f}\" y=\"{:g}\" text-anchor=\"middle\">front wall</text>",
        plan_outline(room, scale), front_walls(room, scale),
        PlanScale::left + room.width * scale.factor / 2, PlanScale::top - 10);
}

std::string plan_blocks(const Room& room, const PlanScale& scale) {
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

std::string plan_openings(const Room& room, const PlanScale& scale) {
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

std::string plan_keep_outs(std::span<const KeepOut> keep_outs, std::span<const Seat> seats,
                           const PlanScale& scale) {
    std::string out;
    for (const KeepOut& k : keep_outs) {
        const double x = scale.x(k.x0), y = scale.y(k.y0), w = (k.x1 - k.x0) * scale.factor,
                     h = (k.y1 - k.y0) * scale.factor;
        out += fmt::format(
            "<g class=\"keep-out\"><title>{}</title><rect x=\"{:.1f}\" y=\"{:.1f}\" "
            "width=\"{:.1f}\" height=\"{:.1f}\"/>{}",
            escape_html("kept free: " + k.name), x, y, w, h, hatching(x, y, w, h));
        // A name stands there only if it has room.
        const auto fitting = static_cast<int>(std::max(w - 10, 0.0) / letter_width);
        if (fitting >= 4 && h > 18) {
            const std::string name = shortened_text(k.name, fitting);
            if (const auto line = free_line(x, y, w, h, name.size(), seats, scale))
                out += fmt::format(
                    "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" "
                    "dir=\"auto\">{}</text>",
                    x + w / 2, *line, escape_html(name));
        }
        out += "</g>";
    }
    return out;
}

std::string plan_seats(std::span<const Seat> seats, const Room& room, const PlanScale& scale) {
    std::string out;
    for (std::size_t i = 0; i < seats.size(); ++i) {
        const Seat& seat = seats[i];
        const double near = std::min(seat.at.x, room.width - seat.at.x) * scale.factor;
        const bool middle = near > 50;
        const char* anchor = middle ? "middle" : 2 * seat.at.x < room.width ? "start" : "end";
        const int fitting = middle ? static_cast<int>(2 * near / 7) : 24;
        out += fmt::format(
            "<g class=\"plan-seat\" data-seat=\"{}\" transform=\"translate({:.2f} {:.2f})\">"
            "<circle class=\"reach\" r=\"16\"/><circle class=\"seat\" r=\"7\" stroke=\"{}\"/>"
            "<text y=\"{:g}\" text-anchor=\"{}\" dir=\"auto\">{}</text></g>",
            i, scale.x(seat.at.x), scale.y(seat.at.y), chart_colour(i), seat_name_offset(i), anchor,
            escape_html(shortened_text(seat.name, std::min(fitting, 24))));
    }
    return out;
}

std::string plan_ticks(const Room& room, const PlanScale& scale, Units units, bool in_both) {
    if (!in_both) return ticks(room, scale, units);
    return "<g class=\"metric\">" + ticks(room, scale, Units::metric) +
           "</g><g class=\"imperial\">" + ticks(room, scale, Units::imperial) + "</g>";
}

}  // namespace boxroom
