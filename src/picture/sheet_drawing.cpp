#include <algorithm>
#include <cstdio>

#include "base/workshop_units.hpp"
#include "picture/box_drawing.hpp"
#include "picture/dimension.hpp"
#include "picture/text_width.hpp"

namespace boxroom {
namespace {

constexpr double sheet_heading = 17, sheet_margin = 3, row = 4.6;
constexpr Colour wood{240, 230, 208}, narrow_wood{214, 190, 150}, soft_line{90, 95, 105};
constexpr Pen piece_edge{0.35}, sheet_edge{0.6};

/// Without its unit.
std::string bare(const std::string& text) {
    return text.substr(0, text.rfind(' '));
}

std::string sides(double a, double b, Units lead) {
    const Measure first = measure(a, lead), second = measure(b, lead);
    return bare(first.above) + " x " + second.above + " (" + bare(first.below) + " x " +
           second.below + ")";
}

/// The letter in the middle, its measures under it where they fit.
void name_piece(Drawing& d, PaperPoint at, double w, double h, const std::string& letter,
                const PlacedPiece& p, Units lead) {
    const double x = at.x + w / 2, y = at.y + h / 2;
    const Measure first = measure(p.length, lead), second = measure(p.width, lead);
    const std::string above = bare(first.above) + " x " + second.above,
                      below = bare(first.below) + " x " + second.below;
    const double words = std::max(text_width(above, 3), text_width(below, 3));
    if (1.12 * words < w - 2 && h > 15) {  // the reader's font may run wider
        d.text({{x, y - 1.6}, letter, 4.5, Anchor::middle, true});
        d.text({{x, y + 2.4}, above, 3});
        d.text({{x, y + 6.4}, below, 3});
    } else if (w > 5.5 && h > 5.5) {
        d.text({{x, y + 1.6}, letter, 4.5, Anchor::middle, true});
    }
}

/// The cut list under the sheet, in two columns.
void key(Drawing& d, const BoxBuild& b, double y, Units lead) {
    const int lines = static_cast<int>(b.panels.size()), half = (lines + 1) / 2;
    for (int n = 0; n < lines; ++n) {
        const Panel& p = b.panels[static_cast<std::size_t>(n)];
        const double x = n < half ? sheet_margin : d.width / 2 + sheet_margin,
                     at = y + (n % half) * row;
        d.text({{x, at}, piece_letter(n), 3.2, Anchor::start, true});
        d.text({{x + 5, at},
                std::to_string(p.count) + " x " + p.name + ": " + sides(p.length, p.width, lead),
                3,
                Anchor::start});
    }
}

}  // namespace

Drawing sheet_drawing(const BoxBuild& b, int sheet, Units lead) {
    Drawing d;
    const CuttingPlan& c = b.cutting;
    const double below = 15 + row * ((static_cast<double>(b.panels.size()) + 1) / 2 + 1);
    double ratio = 200;
    for (const double r :
         {2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0})
        if (1e3 * c.sheet_length / r <= d.width - 2 * sheet_margin - 9 &&
            1e3 * c.sheet_width / r <= d.height - sheet_heading - below) {
            ratio = r;
            break;
        }
    const auto paper = [ratio](double metres) { return metres * 1e3 / ratio; };
    char text[200];
    std::snprintf(text, sizeof text, "Cutting plan, sheet %d of %d; scale 1:%g", sheet + 1,
                  c.sheets, ratio);
    d.title = text;
    d.text({{sheet_margin, 7}, text, 5, Anchor::start, true});
    char words[300];
    std::snprintf(words, sizeof words,
                  "Saw cut %s between pieces. %.0f %% of %s is left over; the largest rest "
                  "is %s. Darker: too narrow for a letter.",
                  format_both(c.kerf, lead).c_str(), 100 * c.waste,
                  c.sheets == 1 ? "the sheet" : "all sheets",
                  sides(c.largest_offcut[0], c.largest_offcut[1], lead).c_str());
    d.text({{sheet_margin, 12.5}, words, 3.2, Anchor::start, false, false, soft_line});

    const PaperPoint at{sheet_margin + 9, sheet_heading};
    const double w = paper(c.sheet_length), h = paper(c.sheet_width);
    for (const PlacedPiece& p : c.pieces) {
        if (p.sheet != sheet) continue;
        const PaperPoint corner{at.x + paper(p.x), at.y + h - paper(p.y + p.width)};
        const double pw = paper(p.length), ph = paper(p.width);
        const bool narrow = std::min(pw, ph) <= 5.5;
        d.areas.push_back({corner, pw, ph, narrow ? narrow_wood : wood});
        d.rectangle(corner, pw, ph, piece_edge);
        name_piece(d, corner, pw, ph, piece_letter(p.panel), p, lead);
    }
    d.rectangle(at, w, h, sheet_edge);
    dimension_across(d, at.x, at.x + w, at.y + h + 5, at.y + h, measure(c.sheet_length, lead));
    dimension_upright(d, at.y, at.y + h, at.x - 5, at.x, measure(c.sheet_width, lead));
    key(d, b, at.y + h + 16, lead);
    return d;
}

}  // namespace boxroom
