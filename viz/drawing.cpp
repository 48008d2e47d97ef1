#include "viz/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "viz/text.hpp"

namespace boxroom {
namespace {

constexpr double dash = 1.6, gap = 1.0;  // mm
constexpr double measured_at = 8;        // px per mm

std::string millimetres(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.3f", value + 0.0);
    std::string out = text;
    out.erase(out.find_last_not_of('0') + 1);
    if (out.back() == '.') out.pop_back();
    return out == "-0" ? "0" : out;
}

std::string hexadecimal(const Colour& c) {
    char text[8];
    std::snprintf(text, sizeof text, "#%02x%02x%02x", c.r, c.g, c.b);
    return text;
}

std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : printable(text))
        out += c == '&'   ? "&amp;"
               : c == '<' ? "&lt;"
               : c == '>' ? "&gt;"
               : c == '"' ? "&quot;"
                          : std::string(1, c);
    return out;
}

std::string attribute(const char* name, const std::string& value) {
    return std::string(" ") + name + "=\"" + value + '"';
}

std::string attribute(const char* name, double value) {
    return attribute(name, millimetres(value));
}

std::string stroke(const Pen& pen) {
    return attribute("stroke", hexadecimal(pen.colour)) + attribute("stroke-width", pen.width) +
           (pen.dashed ? attribute("stroke-dasharray", millimetres(dash) + " " + millimetres(gap))
                       : "");
}

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

void Drawing::rectangle(PaperPoint corner, double w, double h, const Pen& pen) {
    const PaperPoint b{corner.x + w, corner.y}, c{corner.x + w, corner.y + h},
        d{corner.x, corner.y + h};
    line(corner, b, pen), line(b, c, pen), line(c, d, pen), line(d, corner, pen);
}

double text_width(const std::string& text, double size, bool bold) {
    const int pixels = std::max(1, static_cast<int>(std::lround(size * measured_at)));
    return set_text(text, {pixels, bold}).width / measured_at;
}

Rectangle covered(const PaperText& t) {
    const double width = text_width(t.text, t.size, t.bold);
    const double before = t.anchor == Anchor::start    ? 0
                          : t.anchor == Anchor::middle ? width / 2
                                                       : width;
    // Capitals rise 0.75 of the size above the base line, descenders fall 0.22 below it.
    const double up = 0.75 * t.size, down = 0.22 * t.size;
    if (t.upwards) return {t.at.x - up, t.at.y - width + before, up + down, width};
    return {t.at.x - before, t.at.y - up, width, up + down};
}

std::string drawing_svg(const Drawing& d) {
    std::string out =
        "<svg xmlns=\"http://www.w3.org/2000/svg\"" +
        attribute("width", millimetres(d.width) + "mm") +
        attribute("height", millimetres(d.height) + "mm") +
        attribute("viewBox", "0 0 " + millimetres(d.width) + " " + millimetres(d.height)) +
        " role=\"img\"><!-- written by boxroom --><title>" + escaped(d.title) +
        "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
    for (const Drawing::Area& a : d.areas)
        out += "<rect" + attribute("x", a.corner.x) + attribute("y", a.corner.y) +
               attribute("width", a.width) + attribute("height", a.height) +
               attribute("fill", hexadecimal(a.colour)) + "/>\n";
    out += "<g fill=\"none\" stroke-linecap=\"square\">\n";
    for (const Drawing::Line& l : d.lines)
        out += "<line" + attribute("x1", l.from.x) + attribute("y1", l.from.y) +
               attribute("x2", l.to.x) + attribute("y2", l.to.y) + stroke(l.pen) +
               (l.pen.dashed ? " stroke-linecap=\"butt\"/>\n" : "/>\n");
    for (const Drawing::Circle& c : d.circles)
        out += "<circle" + attribute("cx", c.centre.x) + attribute("cy", c.centre.y) +
               attribute("r", c.radius) + stroke(c.pen) +
               (c.pen.dashed ? " stroke-linecap=\"butt\"/>\n" : "/>\n");
    out += "</g>\n<g font-family=\"Arial, Helvetica, 'Liberation Sans', sans-serif\">\n";
    for (const PaperText& t : d.texts) {
        const char* anchor = t.anchor == Anchor::start    ? "start"
                             : t.anchor == Anchor::middle ? "middle"
                                                          : "end";
        out += "<text" + attribute("font-size", t.size) + attribute("text-anchor", anchor) +
               attribute("fill", hexadecimal(t.colour)) +
               (t.bold ? attribute("font-weight", std::string("bold")) : "");
        if (t.upwards)
            out += attribute("transform", "translate(" + millimetres(t.at.x) + " " +
                                              millimetres(t.at.y) + ") rotate(-90)");
        else
            out += attribute("x", t.at.x) + attribute("y", t.at.y);
        out += ">" + escaped(t.text) + "</text>\n";
    }
    return out + "</g>\n</svg>\n";
}

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
