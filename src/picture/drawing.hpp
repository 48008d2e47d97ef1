#pragma once
#include <string>
#include <vector>

#include "picture/paper.hpp"

namespace boxroom {

/// A place on paper [mm]: x to the right, y downwards.
struct PaperPoint {
    double x = 0, y = 0;
};

struct Pen {
    static constexpr double dash = 1.6, gap = 1.0;  ///< of hidden edges [mm]
    double width = 0.35;                            ///< [mm]
    bool dashed = false;                            ///< hidden edges
    Colour colour{28, 32, 40};
};

enum class Anchor { start, middle, end };

/// Text on paper; `at` is the anchor on its base line. Upwards: read from bottom to top.
struct PaperText {
    PaperPoint at;
    std::string text;
    double size = 3;  ///< [mm]
    Anchor anchor = Anchor::middle;
    bool bold = false, upwards = false;
    Colour colour{28, 32, 40};
};

/// A page of lines, circles and words in millimetres, to be written as SVG or PNG. The default page
/// prints at full size, with margins of 10 mm or more, on A4 (297 x 210 mm) and Letter (279.4 x
/// 215.9 mm), both lying.
struct Drawing {
    struct Line {
        PaperPoint from, to;
        Pen pen;
    };
    struct Circle {
        PaperPoint centre;
        double radius;
        Pen pen;
    };
    struct Area {
        PaperPoint corner;  ///< upper left
        double width, height;
        Colour colour;
    };

    double width = 259, height = 190;
    std::string title;  ///< for those who do not see it
    std::vector<Area> areas;
    std::vector<Line> lines;
    std::vector<Circle> circles;
    std::vector<PaperText> texts;

    void line(PaperPoint from, PaperPoint to, const Pen& pen = {}) {
        lines.push_back({from, to, pen});
    }
    void rectangle(PaperPoint corner, double w, double h, const Pen& pen = {});
    void text(PaperText words) {
        if (!words.text.empty()) texts.push_back(std::move(words));
    }
};

/// What a text covers on paper, from its descenders to its capitals [mm].
Rectangle covered(const PaperText& text);

/// The page as an SVG file, sized in millimetres; complete in itself.
std::string drawing_svg(const Drawing& drawing);

}  // namespace boxroom
