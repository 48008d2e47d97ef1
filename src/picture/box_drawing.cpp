#include "picture/box_drawing.hpp"

#include <algorithm>
#include <cstdio>
#include <tuple>

#include "base/workshop_units.hpp"
#include "picture/dimension.hpp"

namespace boxroom {
namespace {

constexpr double first_lane = 7, second_lane = 17, caption = 10, heading = 17, margin = 3;
constexpr double lanes = 22;      ///< paper beside and below a view for its measures [mm]
constexpr double narrowest = 36;  ///< column [mm], for the words above it
constexpr Pen edge{0.45}, joint{0.25}, hidden{0.2, true, {90, 95, 105}};
constexpr Colour soft{90, 95, 105};

enum class Kind { front, side, top, back, brace };

struct View {
    Kind kind;
    double width, height;  ///< [m]
    int column, row;
};

bool driver_on_top(const BoxBuild& b) {
    return lies(b.facing);
}

const Panel* brace_of(const BoxBuild& b) {
    for (const Panel& p : b.panels)
        if (p.window) return &p;
    return nullptr;
}

std::vector<View> views_of(const BoxBuild& b) {
    const auto [w, d, h] = b.outer;
    std::vector<View> views{
        {Kind::front, w, h, 0, 0}, {Kind::side, d, h, 1, 0}, {Kind::top, w, d, 0, 1}};
    if (brace_of(b))
        views.push_back(
            {Kind::brace, b.inner.width, driver_on_top(b) ? b.inner.depth : b.inner.height, 1, 1});
    if (b.amplifier_cut_out)
        views.push_back({Kind::back, w, h, brace_of(b) ? 2 : 1, brace_of(b) ? 0 : 1});
    return views;
}

/// Places the views on the page.
class Page {
  public:
    Page(const BoxBuild& build, Units lead) : b_(build), lead_(lead), views_(views_of(build)) {}

    Drawing draw() {
        choose_scale();
        head();
        for (const View& v : views_) draw_view(v);
        return std::move(d_);
    }

  private:
    double extent(bool columns, int index) const {
        double most = 0;
        for (const View& v : views_)
            if ((columns ? v.column : v.row) == index)
                most = std::max(most, columns ? v.width : v.height);
        return most;
    }

    double column(int index) const {
        const double widest = extent(true, index);
        return widest > 0 ? std::max(narrowest, paper(widest)) : 0;
    }

    void choose_scale() {
        const double x = d_.width - 2 * margin, y = d_.height - heading - margin;
        const int columns = extent(true, 2) > 0 ? 3 : 2;
        double across = 0;
        for (const double ratio : {1.0,  1.5,  2.0,  2.5,  3.0,  4.0,  5.0,  6.0,  7.0,   8.0,
                                   10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0, 200.0}) {
            ratio_ = ratio;
            across = columns * lanes + column(0) + column(1) + column(2);
            if (across + 4 * columns <= x &&
                2 * (lanes + caption) + paper(extent(false, 0) + extent(false, 1)) <= y)
                break;
        }
        // What is left is shared out between the views.
        spare_x_ = std::max(0.0, (x - across) / (columns + 1));
    }

    double paper(double metres) const { return metres * 1e3 / ratio_; }

    PaperPoint corner(const View& v) const {
        PaperPoint p{margin, heading};
        for (int c = 0; c < v.column; ++c) p.x += column(c) + lanes + spare_x_;
        for (int r = 0; r < v.row; ++r) p.y += paper(extent(false, r)) + lanes + caption;
        return {p.x + lanes + spare_x_, p.y + caption};
    }

    void head() {
        char text[200];
        std::snprintf(text, sizeof text, "Closed box, %.1f L (%.3f ft3) net; scale 1:%g",
                      b_.net * 1e3, b_.net / 0.028316846592, ratio_);
        d_.title = text;
        d_.text({{margin, 7}, text, 5, Anchor::start, true});
        const std::string line = b_.material + ", " + format_both(b_.thickness, lead_) + ", " +
                                 b_.joint + " joints" + (b_.double_front ? ", double front" : "") +
                                 "; about " + format_weight(b_.weight, lead_) +
                                 ". Dashed: hidden edges. Measure your driver before you cut.";
        d_.text({{margin, 13}, line, 3.2, Anchor::start, false, false, soft});
    }

    void draw_view(const View& v) {
        const PaperPoint at = corner(v);
        const double w = paper(v.width), h = paper(v.height);
        static const char* const names[] = {"front", "side, front left", "above, front below",
                                            "back", "brace"};
        std::string name = names[static_cast<int>(v.kind)];
        if (v.kind == Kind::brace && b_.braces > 1)
            name += ", " + std::to_string(b_.braces) + " of them";
        d_.text({{at.x, at.y - 5.6}, name, 3.4, Anchor::start, true});
        d_.text({{at.x, at.y - 1.6}, detail(v.kind), 3, Anchor::start, false, false, soft});
        d_.rectangle(at, w, h, edge);
        switch (v.kind) {
            case Kind::front:
                front(at, w, h);
                break;
            case Kind::side:
                side(at, w, h);
                break;
            case Kind::top:
                above(at, w, h);
                break;
            case Kind::back:
                back(at, w, h);
                break;
            case Kind::brace:
                brace(at, w, h);
                break;
        }
        dimension_across(d_, at.x, at.x + w, at.y + h + second_lane - 1, at.y + h,
                         measure(v.width, lead_));
        dimension_upright(d_, at.y, at.y + h, at.x - second_lane + 1, at.x,
                          measure(v.height, lead_));
    }

    /// What a view's picture has no room to say.
    std::string detail(Kind kind) const {
        const bool bears_driver = kind == (driver_on_top(b_) ? Kind::top : Kind::front);
        if (bears_driver && b_.cut_out)
            return "hole \u00d8 " + format_both(*b_.cut_out, lead_) +
                   (b_.facing == Facing::down ? ", in the bottom" : ", central");
        if (kind == Kind::back)
            return "hole " + format_both(amplifier_hole_above_bottom(b_), lead_) + " up";
        return "";
    }

    /// The inside of the shell, hidden behind a panel.
    void inner_outline(PaperPoint at, double w, double h, double left, double right, double top,
                       double bottom) {
        d_.rectangle({at.x + left, at.y + top}, w - left - right, h - top - bottom, hidden);
    }

    void driver_hole(PaperPoint centre, bool seen, double from_x, double from_y) {
        if (!b_.cut_out) return;
        const double r = paper(*b_.cut_out) / 2;
        d_.circles.push_back({centre, r, seen ? edge : Pen{0.3, true, {28, 32, 40}}});
        if (b_.driver_frame) d_.circles.push_back({centre, paper(*b_.driver_frame) / 2, hidden});
        const double cross = std::min(2.0, 0.2 * r);
        d_.line({centre.x - cross, centre.y}, {centre.x + cross, centre.y}, joint);
        d_.line({centre.x, centre.y - cross}, {centre.x, centre.y + cross}, joint);
        // Where its middle lies: half of either side.
        dimension_across(d_, from_x, centre.x, from_y + first_lane - 1, from_y,
                         measure((centre.x - from_x) * ratio_ / 1e3, lead_));
        dimension_upright(d_, centre.y, from_y, from_x - first_lane + 1, from_x,
                          measure((from_y - centre.y) * ratio_ / 1e3, lead_));
    }

    void front(PaperPoint at, double w, double h) {
        const double t = paper(b_.thickness);
        const double layer = driver_on_top(b_) && b_.double_front ? t : 0;
        inner_outline(at, w, h, t, t, t + (b_.facing == Facing::up ? layer : 0),
                      t + (b_.facing == Facing::down ? layer : 0));
        if (!driver_on_top(b_)) driver_hole({at.x + w / 2, at.y + h / 2}, true, at.x, at.y + h);
        if (b_.facing == Facing::up && layer > 0)  // the layer lies on top of everything
            d_.line({at.x, at.y + layer}, {at.x + w, at.y + layer}, joint);
        if (b_.facing == Facing::down && layer > 0)
            d_.line({at.x, at.y + h - layer}, {at.x + w, at.y + h - layer}, joint);
    }

    void side(PaperPoint at, double w, double h) {
        const double t = paper(b_.thickness);
        const double layer = b_.double_front ? t : 0;
        const bool top = driver_on_top(b_);
        const double left = t + (top ? 0 : layer),
                     above = t + (b_.facing == Facing::up ? layer : 0),
                     below = t + (b_.facing == Facing::down ? layer : 0);
        if (b_.joint == "butt") {  // the side stands within front, back, top and bottom
            const double shell_top = at.y + above - t, shell_bottom = at.y + h - below + t;
            for (const double x : {at.x + left, at.x + w - t})
                d_.line({x, shell_top}, {x, shell_bottom}, joint);
            for (const double y : {at.y + above, at.y + h - below})
                d_.line({at.x + left, y}, {at.x + w - t, y}, joint);
        } else {
            inner_outline(at, w, h, left, t, above, below);
        }
        if (layer > 0) {
            if (!top) d_.line({at.x + layer, at.y}, {at.x + layer, at.y + h}, joint);
            if (b_.facing == Facing::up)
                d_.line({at.x, at.y + layer}, {at.x + w, at.y + layer}, joint);
            if (b_.facing == Facing::down)
                d_.line({at.x, at.y + h - layer}, {at.x + w, at.y + h - layer}, joint);
        }
        braces(at, w, h, left, above, below);
    }

    /// Braces hide behind the side; the first one's distance from the driver's face is measured.
    void braces(PaperPoint at, double w, double h, double left, double above, double below) {
        if (b_.braces == 0) return;
        const double t = paper(b_.thickness);
        const bool top = driver_on_top(b_);
        const double deep = top ? h - above - below : w - left - t;
        const double run = (deep - b_.braces * t) / (b_.braces + 1);
        for (int n = 0; n < b_.braces; ++n) {
            const double from = run + n * (run + t);
            for (const double p : {from, from + t}) {
                if (top)
                    d_.line({at.x + left, at.y + above + p}, {at.x + w - t, at.y + above + p},
                            hidden);
                else
                    d_.line({at.x + left + p, at.y + above}, {at.x + left + p, at.y + h - below},
                            hidden);
            }
        }
        if (top)
            dimension_upright(d_, at.y, at.y + above + run, at.x - first_lane + 1, at.x,
                              measure((above + run) * ratio_ / 1e3, lead_));
        else
            dimension_across(d_, at.x, at.x + left + run, at.y + h + first_lane - 1, at.y + h,
                             measure((left + run) * ratio_ / 1e3, lead_));
    }

    void above(PaperPoint at, double w, double h) {
        const double t = paper(b_.thickness);
        const double layer = b_.double_front && !driver_on_top(b_) ? t : 0;
        if (b_.joint == "butt" && !(b_.double_front && b_.facing == Facing::up)) {
            d_.line({at.x, at.y + t}, {at.x + w, at.y + t}, joint);
            d_.line({at.x, at.y + h - t - layer}, {at.x + w, at.y + h - t - layer}, joint);
        }
        if (layer > 0) d_.line({at.x, at.y + h - layer}, {at.x + w, at.y + h - layer}, joint);
        inner_outline(at, w, h, t, t, t, t + layer);
        if (driver_on_top(b_))
            driver_hole({at.x + w / 2, at.y + h / 2}, b_.facing == Facing::up, at.x, at.y + h);
    }

    void back(PaperPoint at, double w, double h) {
        const auto [aw, ah] = *b_.amplifier_cut_out;
        const double low = paper(amplifier_hole_above_bottom(b_));
        const double x = at.x + (w - paper(aw)) / 2, bottom = at.y + h - low;
        d_.rectangle({x, bottom - paper(ah)}, paper(aw), paper(ah), edge);
        dimension_across(d_, x, x + paper(aw), at.y + h + first_lane - 1, bottom,
                         measure(aw, lead_));
        dimension_upright(d_, bottom - paper(ah), bottom, at.x - first_lane + 1, x,
                          measure(ah, lead_));
    }

    void brace(PaperPoint at, double w, double h) {
        const Panel& p = *brace_of(b_);
        const bool upright = h >= w;
        const double ww = paper((*p.window)[upright ? 1 : 0]),
                     wh = paper((*p.window)[upright ? 0 : 1]);
        const PaperPoint inner{at.x + (w - ww) / 2, at.y + (h - wh) / 2};
        d_.rectangle(inner, ww, wh, edge);
        dimension_across(d_, inner.x, inner.x + ww, at.y + h + first_lane - 1, inner.y + wh,
                         measure(ww * ratio_ / 1e3, lead_));
        dimension_upright(d_, inner.y, inner.y + wh, at.x - first_lane + 1, inner.x,
                          measure(wh * ratio_ / 1e3, lead_));
    }

    static double amplifier_hole_above_bottom(const BoxBuild& b) { return b.thickness + 0.02; }

    const BoxBuild& b_;
    Units lead_;
    std::vector<View> views_;
    Drawing d_;
    double ratio_ = 1, spare_x_ = 0;
};

}  // namespace

Drawing box_drawing(const BoxBuild& build, Units lead) {
    return Page(build, lead).draw();
}

std::vector<std::pair<std::string, Drawing>> build_drawings(const BoxBuild& build, Units lead) {
    std::vector<std::pair<std::string, Drawing>> out{{"box", box_drawing(build, lead)}};
    for (int sheet = 0; sheet < build.cutting.sheets; ++sheet)
        out.emplace_back("cutting_plan_" + std::to_string(sheet + 1),
                         sheet_drawing(build, sheet, lead));
    return out;
}

}  // namespace boxroom
