#include "report/floor_map_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/units.hpp"
#include "picture/colour_map.hpp"
#include "picture/field.hpp"
#include "picture/isolines.hpp"
#include "picture/label_placer.hpp"
#include "picture/regions.hpp"
#include "picture/scale.hpp"
#include "report/html_text.hpp"
#include "report/live_page.hpp"
#include "report/plan_parts.hpp"

namespace boxroom {
namespace {

constexpr int bands_per_step = 5;    ///< between two numbers of the scale
constexpr double scale_height = 58;  ///< below the plan
constexpr double tenths = 10;        ///< paths are written in tenths of a unit, without decimals

std::string written(Colour c) {
    return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
}

/// Grid units of a map as tenths of the drawing's units.
class Ground {
  public:
    Ground(const FloorMap& map, const PlanScale& scale) : map_(map), scale_(scale) {}
    long x(const GridPoint& p) const {
        return std::lround(tenths * scale_.x(map_.x0 + p.x * safe_spacing(map_.dx, map_.dy)));
    }
    long y(const GridPoint& p) const {
        return std::lround(tenths * scale_.y(map_.y0 + p.y * safe_spacing(map_.dy, map_.dx)));
    }
    /// Steps from point to point are shorter to write than places.
    std::string path(const Isoline& line, bool closed) const {
        long at_x = x(line[0]), at_y = y(line[0]);
        std::string out = fmt::format("M{} {}l", at_x, at_y);
        for (std::size_t i = 1; i < line.size(); ++i) {
            const long to_x = x(line[i]), to_y = y(line[i]);
            out += fmt::format("{}{} {}", i > 1 ? " " : "", to_x - at_x, to_y - at_y);
            at_x = to_x, at_y = to_y;
        }
        return out + (closed ? "z" : "");
    }

  private:
    const FloorMap& map_;
    const PlanScale& scale_;
};

class MapDrawing {
  public:
    MapDrawing(const FloorMap& map, const Field& field, const ReportInput& in)
        : map_(map),
          in_(in),
          field_(field),
          scale_(in.scenario.acoustics.room),
          wide_(carried_on(map)) {}

    std::string svg(const std::string& label) {
        const Room& room = in_.scenario.acoustics.room;
        std::string marks = places();
        return plan_floor(room, scale_, " still map", "img", label, scale_height) + coloured() +
               plan_blocks(room, scale_) + plan_keep_outs(map_.keep_outs, map_.seats, scale_) +
               plan_walls(room, scale_) + plan_openings(room, scale_) +
               plan_ticks(room, scale_, in_.units, in_.live.on()) +
               plan_seats(map_.seats, room, scale_) + marks + line_numbers() + colour_scale() +
               "</svg>";
    }

  private:
    /// Colours by bands, each painted over what lies lower, then the lines; cut to where a value
    /// is.
    std::string coloured() {
        const Scale& scale = field_.scale();
        const double step = scale.step / bands_per_step;
        const Ground own(map_, scale_), wide(wide_, scale_);
        std::string cells, out;
        for (const GridRectangle& r : valid_cells(map_))
            cells += own.path({r.from, {r.to.x, r.from.y}, r.to, {r.from.x, r.to.y}}, true);
        const Room& room = in_.scenario.acoustics.room;
        out = fmt::format(
            "<clipPath id=\"floor-{0}\"><path d=\"{1}\"/></clipPath>"
            "<clipPath id=\"where-{0}\"><path d=\"{2}\"/></clipPath>"
            "<g clip-path=\"url(#floor-{0})\"><g transform=\"scale({3:g})\" "
            "clip-path=\"url(#where-{0})\"><path fill=\"{4}\" d=\"{2}\"/>",
            escape_html(map_.name), plan_outline(room, scale_), cells, 1 / tenths,
            written(field_.colour(scale.low)));
        for (double level = scale.low + step; level < scale.high - step / 2; level += step) {
            std::string area;
            for (const Isoline& part : region_above(wide_, level)) area += wide.path(part, true);
            if (!area.empty())
                out += fmt::format("<path fill=\"{}\" d=\"{}\"/>",
                                   written(field_.colour(level + step / 2)), area);
        }
        for (const double level : scale.ticks()) {
            std::string lines;
            for (const Isoline& line : isolines(wide_, level)) lines += wide.path(line, false);
            if (!lines.empty())
                out += fmt::format("<path class=\"{}\" d=\"{}\"/>", line_class(level), lines);
        }
        return out + "</g></g>";
    }

    const char* line_class(double level) const {
        return lightness(field_.colour(level)) > 45 ? "line" : "line light";
    }

    /// Boxes, and the best spot where a low value is a good one.
    std::string places() {
        for (const Seat& seat : map_.seats) reserve(seat.at, 8), reserve_name(seat.name, seat.at);
        std::string out;
        for (const PlacedSub& sub : map_.subs) {
            out += fmt::format(
                "<path class=\"place\" d=\"M{:.1f} {:.1f}l9 9-9 9-9-9z\"/>"
                "<text class=\"place\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" "
                "dir=\"auto\">{}</text>",
                scale_.x(sub.at.x), scale_.y(sub.at.y) - 9,
                scale_.x(sub.at.x) + (to_the_left(sub) ? -13 : 13), scale_.y(sub.at.y) + 4.5,
                to_the_left(sub) ? "end" : "start", escape_html(shortened_text(sub.name, 16)));
            reserve(sub.at, 10);
            const double width = 7.0 * double(sub.name.size());
            labels_.reserve(Rectangle{scale_.x(sub.at.x) + (to_the_left(sub) ? -13 - width : 13),
                                      scale_.y(sub.at.y) - 8, width, 16});
        }
        if (const auto best = map_.low_is_good ? field_.smallest() : std::nullopt) {
            out += fmt::format("<circle class=\"best\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"6\"/>",
                               scale_.x(best->x), scale_.y(best->y));
            reserve(Point{best->x, best->y, 0}, 8);
        }
        return out;
    }

    bool to_the_left(const PlacedSub& sub) const { return 2 * sub.at.x > map_.room_width; }
    void reserve(const Point& at, double radius) {
        labels_.reserve(Rectangle{scale_.x(at.x), scale_.y(at.y), 0, 0}.grown(radius));
    }
    void reserve_name(const std::string& name, const Point& at) {
        const double width = 7.0 * double(std::min<std::size_t>(name.size(), 24));
        labels_.reserve(Rectangle{scale_.x(at.x) - width / 2, scale_.y(at.y) - 26, width, 52});
    }

    /// A number on each line that is long enough, where nothing else stands.
    std::string line_numbers() {
        std::string out;
        const Ground ground(map_, scale_);
        for (const double level : field_.scale().ticks()) {
            const std::string text = tick_text(level, field_.scale().step);
            for (const Isoline& line : isolines(map_, level)) {
                if (line.size() < 12) continue;
                for (const double share : {0.5, 0.3, 0.7, 0.15, 0.85}) {
                    const GridPoint& p =
                        line[static_cast<std::size_t>(share * double(line.size() - 1))];
                    const double x = double(ground.x(p)) / tenths, y = double(ground.y(p)) / tenths;
                    if (!labels_.centred({x, y}, 7.0 * double(text.size()) + 4, 15)) continue;
                    out += fmt::format(
                        "<text class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" "
                        "style=\"stroke:{}\">{}</text>",
                        line_class(level), x, y + 4, written(field_.colour(level)), text);
                    break;
                }
            }
        }
        return out;
    }

    /// The bands beside each other with the numbers of the lines, and which end is the good one.
    std::string colour_scale() const {
        const Scale& scale = field_.scale();
        const Room& room = in_.scenario.acoustics.room;
        const double step = scale.step / bands_per_step, top = scale_.y(room.length) + 40,
                     width = room.width * scale_.factor;
        std::string out;
        const auto x = [&](double value) {
            return PlanScale::left + scale.position(value) * width;
        };
        for (double v = scale.low; v < scale.high - step / 2; v += step)
            out += fmt::format(
                "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"11\" fill=\"{}\"/>",
                x(v), top, x(v + step) - x(v) + 0.4, written(field_.colour(v + step / 2)));
        const auto ticks = scale.ticks();
        // Every other number where they would touch.
        const std::size_t stride =
            width / double(std::max<std::size_t>(ticks.size(), 1)) < 34 ? 2 : 1;
        for (std::size_t i = 0; i < ticks.size(); i += stride)
            out += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\">{}</text>",
                               x(ticks[i]), top + 25, tick_text(ticks[i], scale.step));
        out += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\">{}{}</text>", PlanScale::left, top + 42,
                           escape_html(map_.quantity),
                           map_.unit.empty() ? "" : " in " + escape_html(map_.unit));
        if (map_.low_is_good)
            out = fmt::format(
                      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"end\">better "
                      "\xE2\x86\x90</text>",
                      PlanScale::left + width, top + 42) +
                  out;
        return out;
    }

    const FloorMap& map_;
    const ReportInput& in_;
    const Field& field_;
    PlanScale scale_;
    FloorMap wide_;
    LabelPlacer labels_{{PlanScale::left + 4, PlanScale::top + 4,
                         map_.room_width* scale_.factor - 8, map_.room_length* scale_.factor - 8}};
};

/// Where the map is best and worst, in words.
std::string extremes(const FloorMap& map, const Field& field, Units units) {
    const auto low = field.smallest(), high = field.largest();
    if (!low) return map.low_is_good ? "No box can stand anywhere." : "";
    const auto place = [&](const char* name, const Field::Extreme& e) {
        return fmt::format("{} {} {} at {} from the left and {} from the front wall", name,
                           decimal(e.value, 1), map.unit, format_length(e.x, units),
                           format_length(e.y, units));
    };
    return place(map.low_is_good ? "Best:" : "Lowest:", *low) + "; " +
           place(map.low_is_good ? "worst:" : "highest:", *high) + ".";
}

}  // namespace

std::string floor_map_figure(const FloorMap& map, const ReportInput& in) {
    const Room& room = in.scenario.acoustics.room;
    if (!(room.width > 0 && room.length > 0)) return "";
    const Field field(map);
    const auto words = [&](Units units) { return extremes(map, field, units); };
    const std::string label =
        map.title + ": the room from above, front wall at the top. " + words(in.units);
    return fmt::format("<figure><h3>{1}</h3><p class=\"caption\">{2}</p>{0}</figure>\n",
                       MapDrawing(map, field, in).svg(escape_html(label)), isolated(map.title),
                       either_html(words(Units::metric), words(Units::imperial), in));
}

}  // namespace boxroom
