#include "viz/drawing_png.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "viz/text.hpp"

namespace boxroom {
namespace {

constexpr double dash = Pen::dash, gap = Pen::gap;

/// A dashed line as its dashes.
std::vector<Stroke> strokes(const Drawing::Line& line, double scale) {
    const Pixel a{line.from.x * scale, line.from.y * scale},
        b{line.to.x * scale, line.to.y * scale};
    if (!line.pen.dashed) return {{a, b}};
    const double length = std::hypot(line.to.x - line.from.x, line.to.y - line.from.y);
    std::vector<Stroke> out;
    for (double at = 0; at < length; at += dash + gap) {
        const double s = at / length, e = std::min(1.0, (at + dash) / length);
        out.push_back({{a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)},
                       {a.x + e * (b.x - a.x), a.y + e * (b.y - a.y)}});
    }
    return out;
}

std::vector<Stroke> strokes(const Drawing::Circle& circle, double scale) {
    const double around = 2 * std::numbers::pi * circle.radius;
    const double piece = circle.pen.dashed ? dash + gap : 0.5;
    const int pieces = std::max(24, static_cast<int>(std::lround(around / piece)));
    const double share = circle.pen.dashed ? dash / (dash + gap) : 1;
    const auto at = [&](double turn) {
        const double angle = 2 * std::numbers::pi * turn / pieces;
        return Pixel{(circle.centre.x + circle.radius * std::cos(angle)) * scale,
                     (circle.centre.y + circle.radius * std::sin(angle)) * scale};
    };
    std::vector<Stroke> out;
    for (int n = 0; n < pieces; ++n) out.push_back({at(n), at(n + share)});
    return out;
}

}  // namespace

std::string drawing_png(const Drawing& d, double scale) {
    Canvas canvas(static_cast<int>(std::lround(d.width * scale)),
                  static_cast<int>(std::lround(d.height * scale)));
    for (const Drawing::Area& a : d.areas)
        canvas.fill({a.corner.x * scale, a.corner.y * scale, a.width * scale, a.height * scale},
                    a.colour);
    for (const Drawing::Line& l : d.lines)
        canvas.lines(strokes(l, scale), l.pen.colour, l.pen.width * scale);
    for (const Drawing::Circle& c : d.circles)
        canvas.lines(strokes(c, scale), c.pen.colour, c.pen.width * scale);
    for (const PaperText& t : d.texts) {
        const TextImage image =
            set_text(t.text, {static_cast<int>(std::lround(t.size * scale)), t.bold, t.upwards});
        const double along = t.upwards ? image.height : image.width;
        const double before = t.anchor == Anchor::start    ? 0
                              : t.anchor == Anchor::middle ? along / 2
                                                           : along;
        // The image holds the line from its ascenders to its descenders: the base line lies about
        // 22 % of the size above its lower edge where there are descenders.
        const double rise = 0.78 * (t.upwards ? image.width : image.height);
        const double x = t.at.x * scale, y = t.at.y * scale;
        if (t.upwards)
            canvas.text(image, x - rise, y - along + before, t.colour);
        else
            canvas.text(image, x - before, y - rise, t.colour);
    }
    return canvas.png();
}

}  // namespace boxroom
