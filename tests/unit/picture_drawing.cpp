// The builder's drawings: words that can be read, on paper that everybody has.
#include <catch2/catch.hpp>
#include <random>
#include <sstream>

#include "picture/box_drawing.hpp"

using namespace boxroom;

namespace {

Panel panel(const char* name, int count, double a, double b) {
    Panel p;
    p.name = name, p.count = count, p.length = std::max(a, b), p.width = std::min(a, b);
    return p;
}

/// A box of any shape, with all that a drawing may hold, its pieces laid out row by row.
BoxBuild any_box(std::mt19937& random) {
    std::uniform_real_distribution<double> side(0.18, 0.9), board(0.012, 0.03);
    BoxBuild b;
    b.thickness = board(random), b.material = "MDF", b.joint = random() % 2 ? "butt" : "mitred";
    b.double_front = random() % 2;
    b.facing = std::array{Facing::front, Facing::up, Facing::down}[random() % 3];
    b.inner = {side(random), side(random), side(random)};
    const double both = 2 * b.thickness;
    b.outer = {b.inner.width + both, b.inner.depth + both, b.inner.height + both};
    if (b.double_front) (lies(b.facing) ? b.outer.height : b.outer.depth) += b.thickness;
    b.net = b.inner.width * b.inner.depth * b.inner.height, b.weight = 20;
    b.braces = static_cast<int>(random() % 3);
    const double along = lies(b.facing) ? b.inner.depth : b.inner.height;
    if (random() % 4) b.cut_out = 0.8 * std::min(b.inner.width, along);
    if (random() % 2) b.amplifier_cut_out = {0.6 * b.inner.width, 0.5 * b.inner.height};
    b.panels = {panel("front", 1, b.outer.width, b.outer.height),
                panel("back", 1, b.outer.width, b.outer.height),
                panel("top and bottom", 2, b.outer.width, b.inner.depth),
                panel("side", 2, b.inner.height, b.inner.depth),
                panel("cleat", 8, b.inner.depth / 2, b.thickness)};
    if (b.braces > 0) {
        Panel brace = panel("brace with a window", b.braces, b.inner.width, along);
        const double bar = 0.15 * brace.width;
        brace.window = {brace.length - 2 * bar, brace.width - 2 * bar};
        b.panels.push_back(brace);
    }
    CuttingPlan& c = b.cutting;
    c.sheet_length = 2.44, c.sheet_width = 1.22, c.kerf = 0.0032;
    double x = 0, y = 0, row = 0;
    c.sheets = 1;
    for (std::size_t n = 0; n < b.panels.size(); ++n)
        for (int k = 0; k < b.panels[n].count; ++k) {
            const Panel& p = b.panels[n];
            if (x + p.length > 2.44) x = 0, y += row, row = 0;
            if (y + p.width > 1.22) x = y = row = 0, ++c.sheets;
            c.pieces.push_back({static_cast<int>(n), c.sheets - 1, x, y, p.length, p.width});
            x += p.length + c.kerf, row = std::max(row, p.width + c.kerf);
        }
    return b;
}

void check_readable(const Drawing& d) {
    const Rectangle page{0, 0, d.width, d.height};
    std::vector<Rectangle> boxes;
    for (const PaperText& text : d.texts) {
        CHECK(text.size >= 2.8);  // 8 points
        boxes.push_back(covered(text));
        INFO(text.text);
        CHECK(page.holds(boxes.back()));
    }
    for (std::size_t a = 0; a < boxes.size(); ++a)
        for (std::size_t b = a + 1; b < boxes.size(); ++b) {
            INFO(d.texts[a].text << " / " << d.texts[b].text);
            CHECK_FALSE(boxes[a].overlaps(boxes[b]));
        }
    for (const Drawing::Line& line : d.lines)
        for (const PaperPoint& p : {line.from, line.to})
            CHECK((p.x >= 0 && p.y >= 0 && p.x <= d.width && p.y <= d.height));
}

}  // namespace

TEST_CASE("The page prints at full size on A4 and Letter with margins of 9 mm") {
    const Drawing d;
    CHECK(d.width + 2 * 9 <= std::min(297.0, 279.4));
    CHECK(d.height + 2 * 9 <= std::min(210.0, 215.9));
}

TEST_CASE("No label lies on another or leaves the page, whatever the box") {
    std::mt19937 random(21);
    for (int n = 0; n < 60; ++n) {
        const BoxBuild b = any_box(random);
        for (const Units units : {Units::metric, Units::imperial}) {
            check_readable(box_drawing(b, units));
            for (int sheet = 0; sheet < b.cutting.sheets; ++sheet)
                check_readable(sheet_drawing(b, sheet, units));
        }
    }
}

TEST_CASE("Measures stand in the drawing as they are in the box, and to scale") {
    std::mt19937 random(4);
    BoxBuild b = any_box(random);
    b.facing = Facing::front, b.double_front = false, b.cut_out = 0.15;
    b.outer = {0.338, 0.302, 0.402}, b.inner = {0.3, 0.264, 0.364}, b.thickness = 0.019;
    const Drawing d = box_drawing(b, Units::metric);
    std::string all;
    for (const PaperText& text : d.texts) all += text.text + "|";
    for (const char* words : {"338 mm", "13 5/16 in", "302 mm", "402 mm"})
        CHECK(all.find(words) != std::string::npos);
    const double ratio = std::stod(d.title.substr(d.title.find("1:") + 2));
    REQUIRE_FALSE(d.circles.empty());
    CHECK(d.circles[0].radius * 2 * ratio == Approx(150));
    bool wide = false, high = false;
    for (const Drawing::Line& l : d.lines) {
        wide = wide || std::abs(l.to.x - l.from.x) * ratio == Approx(338);
        high = high || std::abs(l.to.y - l.from.y) * ratio == Approx(402);
    }
    CHECK(wide);
    CHECK(high);
}

TEST_CASE("an SVG is a whole file, and odd words stay words") {
    Drawing d;
    d.title = "<b>&\"";
    d.text({{20, 20}, "a < b & c", 4});
    d.line({10, 10}, {40, 10}, {1.0, false, {255, 0, 0}});
    const std::string svg = drawing_svg(d);
    CHECK(svg.find("width=\"259mm\"") != std::string::npos);
    CHECK(svg.find("a &lt; b &amp; c") != std::string::npos);
    CHECK(svg.find("<b>") == std::string::npos);
    CHECK(svg.substr(svg.size() - 7) == "</svg>\n");
    CHECK(piece_letter(0) == "A");
    CHECK(piece_letter(27) == "B1");
}
