#include "viz/window/overlay.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "picture/label_placer.hpp"
#include "results/criterion.hpp"
#include "viz/text.hpp"
#include "viz/window/furniture.hpp"
#include "viz/window/keys.hpp"
#include "viz/window/look.hpp"

namespace boxroom {
namespace {

constexpr double line = 18;  // [px] from line to line

template <typename... Values>
std::string text_of(const char* form, Values... values) {
    char text[160];
    std::snprintf(text, sizeof text, form, values...);
    return text;
}

/// The left edge of what stands beside the room.
double beside(const Rectangle& window) {
    return std::floor(window.width * 0.6) + 16;
}

}  // namespace

Overlay::Overlay(const RoomView& view, const RoomScene& scene, Stage& stage, Units units)
    : view_(view),
      scene_(scene),
      stage_(stage),
      units_(units),
      patches_(stage.text()),
      text_(stage.text()) {}

Rectangle Overlay::level_chart(const Rectangle& w) {
    const double bottom = std::round(w.height * 0.44);
    return {beside(w) + 44, bottom + 24, w.width - beside(w) - 62, w.height - bottom - 72};
}

Rectangle Overlay::spread_chart(const Rectangle& w) {
    const double bottom = 200;
    return {beside(w) + 44, bottom + 38, w.width - beside(w) - 62,
            std::round(w.height * 0.44) - bottom - 46};
}

void Overlay::draw(const Arranger& arranger, const RoomAnswer& answer, const FieldSlice& slice,
                   CurvePanel& curves, const Notice& notice) {
    text_.begin();
    patches_.begin();
    draw_title(answer);
    draw_constructions();
    if (slice.kind() != FieldKind::none && answer.field.nu > 1) draw_scale(slice, answer);
    if (!notice.show_keys) draw_names(arranger, arranger.box());
    draw_mode_orders(curves);
    draw_criteria(arranger, answer);
    draw_key_to_curves(answer);
    draw_notice(arranger, notice);
    if (notice.show_keys) draw_keys();
    patches_.end();
    text_.end();
}

void Overlay::draw_title(const RoomAnswer& answer) {
    const Rectangle w = stage_.whole();
    text_.put(16, w.height - 30, shortened(printable(view_.title), 60),
              {17, look::ink, true, -1, 0.75});
    text_.put(16, w.height - 50,
              format_length(view_.width, units_) + " wide, " + format_length(view_.length, units_) +
                  " long, " + format_length(view_.height, units_) + " high",
              {13, look::faint, false, -1, 0.75});
    text_.put(beside(w), w.height - 30,
              answer.has_levels            ? "Level at the seats"
              : answer.heard.seats.empty() ? "Level at the seats: being worked out"
                                           : "Level at the seats: of the place before",
              {15, answer.has_levels ? look::ink : look::notice, true, -1, 0});
}

/// Names beside what they name, none on another: the placer counts y downwards.
void Overlay::draw_names(const Arranger& arranger, const BoxSize& box) {
    const Rectangle area = stage_.room_area(), w = stage_.whole();
    LabelPlacer placer({area.x + 4, 60, area.width - 8, area.height - 64});
    for (const TextLayer::Placed& p : text_.placed())
        placer.reserve(
            Rectangle{p.where.x, w.height - p.where.bottom(), p.where.width, p.where.height}.grown(
                4));
    std::vector<Mark> marks;
    for (int thing = 0; thing < arranger.things(); ++thing) {
        Point at = arranger.place(thing);
        Point top = at;
        if (arranger.is_box(thing)) {
            const auto [low, high] = Furniture::extent(arranger.now().boxes[thing], box);
            at.z = (low.z + high.z) / 2;
            top = {at.x, at.y, high.z};
        } else {
            top.z += Furniture::head;
        }
        const Pixel middle = stage_.pixel(at), up = stage_.pixel(top);
        const double radius = std::clamp(std::abs(up.y - middle.y) * 1.3, 8.0, 60.0);
        const bool chosen = thing == arranger.chosen();
        marks.push_back({arranger.name(thing),
                         {middle.x, w.height - middle.y},
                         radius,
                         {13, chosen ? look::chosen : look::ink, chosen, -1, 0.75}});
        placer.reserve(
            Rectangle{middle.x - radius, w.height - middle.y - radius, 2 * radius, 2 * radius});
    }
    add_fixtures(marks);
    for (const Mark& mark : marks) {
        const std::string name = shortened(printable(mark.name), 28);
        const Rectangle size = text_.measure(name, mark.style);
        const auto place = placer.beside(mark.at, mark.radius, size.width, size.height);
        if (place) text_.put(place->where.x, w.height - place->where.bottom(), name, mark.style);
    }
}

/// What stands in the room or leads out of it; named after what can be moved, where there is room.
void Overlay::add_fixtures(std::vector<Mark>& marks) const {
    const double high = stage_.whole().height;
    const auto add = [&](const std::string& name, const Point& a, const Point& b) {
        const Pixel at = stage_.pixel({(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2});
        marks.push_back({name, {at.x, high - at.y}, 0, {12, look::faint, false, -1, 0.75}});
    };
    for (const CuboidLook& block : view_.blocks) add(block.name, block.from, block.to);
    for (const OpeningLook& opening : view_.openings)
        add(opening.name, opening.corners[0], opening.corners[2]);
}

void Overlay::draw_constructions() {
    double y = stage_.room_area().y + 8;
    const Lettering plate{12, look::ink, false, -1, 0.75};
    const auto& all = scene_.constructions();
    for (auto it = all.rbegin(); it != all.rend(); ++it, y += line) {
        patches_.put({16, y + 2, 14, 11}, it->colour, 0.55);
        text_.put(38, y, shortened(printable(it->name + " (" + it->where + ")"), 60), plate);
    }
    if (!view_.decay.empty()) text_.put(16, y, view_.decay, {12, look::notice, false, -1, 0.75});
}

void Overlay::draw_scale(const FieldSlice& slice, const RoomAnswer& answer) {
    const FieldPlane& plane = answer.field;
    const Rectangle area = stage_.room_area();
    const double left = area.right() - 74, low = area.y + area.height * 0.52,
                 height = area.height * 0.34;
    constexpr int cells = 64;
    patches_.put({left - 10, low - 8, 74, height + 16}, look::paper, 0.75);
    const Scale& scale = slice.scale();
    for (int i = 0; i < cells; ++i)
        patches_.put({left, low + height * i / cells, 16, height / cells},
                     slice.colour(scale.low + (scale.high - scale.low) * (i + 0.5) / cells));
    const bool level = slice.kind() == FieldKind::level;
    for (double tick : scale.ticks()) {
        const double y = low + height * scale.position(tick);
        patches_.put({left + 16, y - 0.5, 5, 1}, look::ink);
        text_.put(left + 25, y - 8, tick_text(tick, scale.step), {12, look::ink, false, -1, 0});
    }
    text_.put(left + 56, low + height + 14, level ? "level / dB" : "pressure / Pa",
              {13, look::ink, true, 1, 0});
    text_.put(
        area.right() - 18, low - 26,
        format_frequency(plane.frequency) + ", " + format_length(plane.corner.z, units_) + " up",
        {12, look::ink, false, 1, 0.75});
    if (level)
        text_.put(area.right() - 18, low - 26 - line,
                  "a line every " + tick_text(slice.step(), slice.step()) + " dB",
                  {12, look::faint, false, 1, 0.75});
    if (answer.rough)
        text_.put(area.right() - 18, low - 26 - 2 * line, "field: a sketch, not yet exact",
                  {12, look::notice, false, 1, 0.75});
}

/// The orders of the lowest modes over their ticks, as far as there is room.
void Overlay::draw_mode_orders(CurvePanel& curves) {
    const Rectangle plot = curves.plot_area();
    if (plot.width < 40) return;
    double free_from = plot.x + 2;
    for (const ModeTick& mode : view_.modes) {
        const auto& n = mode.order;
        if ((n[0] > 0) + (n[1] > 0) + (n[2] > 0) != 1) continue;  // axial modes have names
        const std::string name = text_of("%d,%d,%d", n[0], n[1], n[2]);
        const Lettering style{10, look::faint, false, 0, 0.85};  // over the cursor
        const Rectangle size = text_.measure(name, style);
        const double x = curves.x_of(mode.frequency);
        if (x - size.width / 2 < free_from || x + size.width / 2 > plot.right()) continue;
        text_.put(x, plot.y + plot.height * 3.6 / 60, name, style);
        free_from = x + size.width / 2 + 4;
    }
}

void Overlay::draw_criteria(const Arranger& arranger, const RoomAnswer& answer) {
    const Rectangle w = stage_.whole();
    const BoxSize box = arranger.box();
    const double x = beside(w);
    double y = 172;
    text_.put(x, y, "Box of " + format_volume(box.volume, units_), {14, look::ink, true, -1, 0});
    const auto row = [&](const char* name, const std::string& value) {
        y -= line;
        text_.put(x, y, name, {13, look::faint, false, -1, 0});
        text_.put(x + 168, y, value, {13, look::ink, false, 1, 0});
    };
    const bool known = !answer.heard.seats.empty();
    row("Qtc", text_of("%.2f", box.qtc));
    row("resonance fc", text_of("%.1f Hz", box.fc));
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false))
            row(c.label,
                known ? text_of("%.*f %s", c.decimals, answer.heard.criteria.*c.member, c.unit)
                      : "-");
}

void Overlay::draw_key_to_curves(const RoomAnswer& answer) {
    const Rectangle w = stage_.whole();
    const Listening& heard = answer.heard;
    const double x = beside(w) + 200, right = w.width - 16;
    double y = 172;
    const auto at = std::min_element(heard.frequency.begin(), heard.frequency.end(),
                                     [&](double a, double b) {
                                         return std::abs(a - answer.arrangement.frequency) <
                                                std::abs(b - answer.arrangement.frequency);
                                     }) -
                    heard.frequency.begin();
    if (heard.frequency.empty()) return;
    text_.put(x, y, "At " + format_frequency(heard.frequency[at]), {14, look::ink, true, -1, 0});
    const auto row = [&](const std::string& name, Colour colour, double thick, int pieces,
                         double level) {
        y -= line;
        if (y < 4) return;
        for (int i = 0; i < pieces; ++i)
            patches_.put({x + 22.0 * i / pieces, y + 8 - thick / 2,
                          22.0 / pieces - (pieces > 1 ? 3 : 0), thick},
                         colour);
        text_.put(x + 30, y, shortened(printable(name), 22), {13, look::ink, false, -1, 0});
        text_.put(right, y, text_of("%.1f dB", level), {13, look::ink, false, 1, 0});
    };
    const std::size_t seats = heard.seats.size(), most = 6;
    for (std::size_t s = 0; s < std::min(seats, most); ++s)
        row(heard.seats[s].name, look::seat(s), 2, 1, heard.level_db(at, s));
    row("seat average", look::ink, 3, 1, heard.seat_average_db[at]);
    row("half space, 1 m", look::half_space, 2, 3, heard.half_space_db[at]);
    row("target", look::target, 2, 2, heard.target_db[at]);
    if (as_measured(view_, answer.arrangement))
        text_.put(x + 30, y - line, "dotted: recorded at the seats", {13, look::ink, false, -1, 0});
}

void Overlay::draw_notice(const Arranger& arranger, const Notice& notice) {
    const Rectangle area = stage_.room_area();
    patches_.put({0, 0, area.width, area.y - 1}, look::floor);
    const std::string left = notice.working.empty() ? notice.message : notice.working + " ...";
    text_.put(16, 6, left, {13, notice.working.empty() ? look::ink : look::notice, false, -1, 0});
    const Point at = arranger.place(arranger.chosen());
    const Rectangle where = text_.put(area.right() - 16, 6,
                                      shortened(printable(arranger.name(arranger.chosen())), 24) +
                                          ": " + format_length(at.x, units_) + " from left, " +
                                          format_length(at.y, units_) + " from front",
                                      {13, look::chosen, false, 1, 0});
    (void)where;
    if (const auto mode = arranger.nearest_mode())
        text_.put(area.right() - 18, area.y + 10,
                  text_of("nearest mode (%d,%d,%d) at %.1f Hz", mode->order[0], mode->order[1],
                          mode->order[2], mode->frequency),
                  {12, look::ink, false, 1, 0.75});
}

void Overlay::draw_keys() {
    const Rectangle area = stage_.room_area();
    std::vector<std::pair<std::string, std::string>> rows;
    for (const Key& key : all_keys())
        if (!key.shown.empty()) rows.push_back({key.shown, key.does});
    rows.push_back({"mouse", "drag a sub or a seat; drag elsewhere to turn the room"});
    rows.push_back({"", "wheel: nearer and farther; right button: shift the room"});
    rows.push_back({"", "click or drag on the curves: frequency of the field"});
    const double height = line * rows.size() + 20, width = 500;
    const double x = area.x + (area.width - width) / 2, y = area.y + (area.height - height) / 2;
    patches_.put({x - 1, y - 1, width + 2, height + 2}, look::edge);
    patches_.put({x, y, width, height}, look::paper);
    double at = y + height - 10;
    for (const auto& [key, does] : rows) {
        at -= line;
        text_.put(x + 20, at, key, {13, look::ink, true, -1, 0});
        text_.put(x + 90, at, does, {13, look::ink, false, -1, 0});
    }
}

}  // namespace boxroom
