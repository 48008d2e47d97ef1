#include "viz/floor_map.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "picture/colour_map.hpp"
#include "picture/field.hpp"
#include "picture/isolines.hpp"
#include "picture/label_placer.hpp"
#include "viz/floor_map_frame.hpp"
#include "viz/text.hpp"

namespace boxroom {
namespace {

constexpr Colour empty_floor{226, 226, 226}, hatching{150, 150, 150};
constexpr double seat_radius = 10, sub_radius = 13;
constexpr int name_length = 24;

void paint_field(Canvas& canvas, const Frame& frame, const Field& field) {
    canvas.fill(frame.plot, empty_floor);
    const int x1 = std::min(canvas.width(), int(std::ceil(frame.plot.right())));
    const int y1 = std::min(canvas.height(), int(std::ceil(frame.plot.bottom())));
    for (int y = int(frame.plot.y); y < y1; ++y)
        for (int x = int(frame.plot.x); x < x1; ++x)
            if (const auto v = field.at(frame.metres_x(x + 0.5), frame.metres_y(y + 0.5)))
                canvas.set(x, y, field.colour(*v));
}

std::vector<Pixel> on_picture(const Isoline& line, const Frame& frame, const Field& field) {
    std::vector<Pixel> out;
    for (const GridPoint& p : line) out.push_back(frame.pixel(field.x_of(p.x), field.y_of(p.y)));
    return out;
}

/// Points about a quarter, half and three quarters along a line, the middle first; none if it is
/// short.
std::vector<Pixel> label_points(const std::vector<Pixel>& line, double shortest) {
    double length = 0;
    std::vector<double> along{0};
    for (std::size_t i = 1; i < line.size(); ++i)
        along.push_back(length += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y));
    std::vector<Pixel> out;
    if (length < shortest) return out;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8}) {
        const auto it = std::lower_bound(along.begin(), along.end(), share * length);
        out.push_back(line[std::min(std::size_t(it - along.begin()), line.size() - 1)]);
    }
    return out;
}

class MapPicture {
  public:
    MapPicture(const FloorMap& map, Units units)
        : map_(map),
          field_(map),
          frame_(map, field_, units),
          canvas_(frame_.make_canvas()),
          labels_(frame_.plot.grown(-4)) {}

    std::string draw() {
        paint_field(canvas_, frame_, field_);
        draw_isolines();
        for (const KeepOut& k : map_.keep_outs) draw_keep_out(k);
        frame_.draw_around(canvas_);
        reserve_marks();
        // The subs and the best spot are the answer: they get the nearest places for their labels.
        for (const PlacedSub& sub : map_.subs)
            label(sub.name, frame_.pixel(sub.at.x, sub.at.y), sub_radius, true);
        label_best();
        for (const Seat& seat : map_.seats)
            label(seat.name, frame_.pixel(seat.at.x, seat.at.y), seat_radius, false);
        for (const KeepOut& k : map_.keep_outs) label_keep_out(k);
        draw_marks();
        for (const KeepOut& k : map_.keep_outs) labels_.reserve(on_floor(k));
        label_isolines();
        return canvas_.png();
    }

  private:
    bool in_room(Pixel p) const { return frame_.plot.holds({p.x, p.y, 0, 0}); }

    Rectangle on_floor(const KeepOut& k) const {
        const auto clip = [](double v, double high) {
            return std::clamp(std::isfinite(v) ? v : 0.0, 0.0, high);
        };
        const Pixel a = frame_.pixel(clip(std::min(k.x0, k.x1), map_.room_width),
                                     clip(std::min(k.y0, k.y1), map_.room_length));
        const Pixel b = frame_.pixel(clip(std::max(k.x0, k.x1), map_.room_width),
                                     clip(std::max(k.y0, k.y1), map_.room_length));
        return {a.x, a.y, b.x - a.x, b.y - a.y};
    }

    void draw_keep_out(const KeepOut& k) {
        const Rectangle where = on_floor(k);
        canvas_.fill(where, map_paper, 0.75);
        canvas_.hatch(where, hatching, 12, 1.4);
        canvas_.outline(where, {110, 110, 110}, 1.5);
    }

    void draw_isolines() {
        std::vector<Stroke> dark, light;
        for (const double level : field_.scale().ticks()) {
            for (const Isoline& line : isolines(map_, level)) {
                auto points = on_picture(line, frame_, field_);
                auto& strokes = lightness(field_.colour(level)) > 45 ? dark : light;
                for (std::size_t i = 1; i < points.size(); ++i)
                    strokes.push_back({points[i - 1], points[i]});
                contours_.push_back({level, std::move(points)});
            }
        }
        canvas_.lines(dark, {40, 60, 70}, 1.2);
        canvas_.lines(light, {235, 240, 245}, 1.2);
    }

    void reserve_marks() {
        const auto reserve = [&](const Point& at, double radius) {
            const Pixel p = frame_.pixel(at.x, at.y);
            labels_.reserve(Rectangle{p.x, p.y, 0, 0}.grown(radius));
        };
        for (const Seat& seat : map_.seats) reserve(seat.at, seat_radius);
        for (const PlacedSub& sub : map_.subs) reserve(sub.at, sub_radius);
        if (best()) reserve({best()->x, best()->y, 0}, 9);
    }

    /// A name on a white plate near its mark. Left out if the picture is too full.
    void label(const std::string& name, Pixel mark, double radius, bool bold) {
        const TextImage text = set_text(shortened(printable(name), name_length), {16, bold});
        if (text.width == 0 || !in_room(mark)) return;
        const auto place = labels_.beside(mark, radius, text.width + 8, text.height + 2);
        if (!place) return;
        if (place->leader) leaders_.push_back(*place->leader);
        plates_.push_back({place->where, text});
    }

    std::optional<Field::Extreme> best() const {
        if (!map_.low_is_good || frame_.constant()) return std::nullopt;
        return field_.smallest();
    }

    void label_best() {
        if (!best()) return;
        label("best: " + frame_.value_text(best()->value), frame_.pixel(best()->x, best()->y), 9,
              true);
    }

    void label_keep_out(const KeepOut& k) {
        const Rectangle where = on_floor(k);
        const Pixel middle{where.x + where.width / 2, where.y + where.height / 2};
        const std::string name = shortened(printable(k.name), name_length);
        for (const bool upwards : {false, true}) {
            const TextImage text = set_text(name, {15, false, upwards});
            if (text.width == 0) return;
            const double width = text.width + 8, height = text.height + (upwards ? 8 : 2);
            if (width > where.width - 4 || height > where.height - 4) continue;
            for (const double shift : {0.0, -0.25, 0.25}) {
                const Pixel at = upwards ? Pixel{middle.x + shift * where.width, middle.y}
                                         : Pixel{middle.x, middle.y + shift * where.height};
                const auto free = labels_.centred(at, width, height);
                if (!free) continue;
                plates_.push_back({*free, text});
                return;
            }
        }
        label(k.name, middle, 2, false);
    }

    void draw_marks() {
        canvas_.lines(leaders_, map_paper, 4);
        canvas_.lines(leaders_, map_ink, 1.3);
        if (best()) {
            const Pixel p = frame_.pixel(best()->x, best()->y);
            canvas_.disc(p, 9, map_ink);
            canvas_.disc(p, 7, map_paper);
            canvas_.disc(p, 4, field_.colour(best()->value));
        }
        for (const PlacedSub& sub : map_.subs) {
            const Pixel p = frame_.pixel(sub.at.x, sub.at.y);
            if (!in_room(p)) continue;
            canvas_.diamond(p, sub_radius + 3, map_paper);
            canvas_.diamond(p, sub_radius, map_ink);
        }
        for (const Seat& seat : map_.seats) {
            const Pixel p = frame_.pixel(seat.at.x, seat.at.y);
            if (!in_room(p)) continue;
            canvas_.disc(p, seat_radius, map_ink);
            canvas_.disc(p, seat_radius - 2.5, map_paper);
        }
        for (const Plate& plate : plates_) {
            canvas_.fill(plate.where, map_paper, 0.88);
            canvas_.text(plate.text, plate.where.x + (plate.where.width - plate.text.width) / 2,
                         plate.where.y + (plate.where.height - plate.text.height) / 2, map_ink);
        }
    }

    void label_isolines() {
        for (const Contour& contour : contours_) {
            const TextImage text = set_text(tick_text(contour.level, field_.scale().step), {13});
            for (const Pixel& at : label_points(contour.points, 70)) {
                const auto free = labels_.centred(at, text.width + 4, text.height);
                if (!free) continue;
                const Colour ground = field_.colour(contour.level);
                canvas_.fill(*free, ground);
                canvas_.text(text, free->x + 2, free->y,
                             lightness(ground) > 45 ? map_ink : map_paper);
                break;
            }
        }
    }

    struct Plate {
        Rectangle where;
        TextImage text;
    };
    struct Contour {
        double level;
        std::vector<Pixel> points;
    };

    const FloorMap& map_;
    Field field_;
    Frame frame_;
    Canvas canvas_;
    LabelPlacer labels_;
    std::vector<Contour> contours_;
    std::vector<Stroke> leaders_;
    std::vector<Plate> plates_;
};

}  // namespace

std::string floor_map_png(const FloorMap& map, Units units) {
    return MapPicture(map, units).draw();
}

}  // namespace boxroom
