#include "picture/drawing.hpp"

#include <cstdio>

#include "picture/printable.hpp"
#include "picture/text_width.hpp"

namespace boxroom {
namespace {

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
           (pen.dashed ? attribute("stroke-dasharray",
                                   millimetres(Pen::dash) + " " + millimetres(Pen::gap))
                       : "");
}

}  // namespace

void Drawing::rectangle(PaperPoint corner, double w, double h, const Pen& pen) {
    const PaperPoint b{corner.x + w, corner.y}, c{corner.x + w, corner.y + h},
        d{corner.x, corner.y + h};
    line(corner, b, pen), line(b, c, pen), line(c, d, pen), line(d, corner, pen);
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

}  // namespace boxroom
