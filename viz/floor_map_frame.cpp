#include "viz/floor_map_frame.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace boxroom {
namespace {

constexpr Colour soft_ink{90, 95, 105};
constexpr double left_margin = 88, right_margin = 176, bar_gap = 34, bar_width = 28;
constexpr double widest_plot = 1000 - left_margin - right_margin, tallest_plot = 860,
                 shortest_bar = 240;
constexpr double below_plot = 104;  ///< ticks, axis title, key

/// Breaks at spaces so that no line is wider; a word that is too long by itself is cut.
std::vector<std::string> wrapped(std::string_view text, const TextStyle& style, double width,
                                 std::size_t most_lines) {
    const auto fits = [&](const std::string& line) { return set_text(line, style).width <= width; };
    std::vector<std::string> lines;
    std::string line, word;
    const auto take_word = [&] {
        if (word.empty()) return;
        const std::string longer = line.empty() ? word : line + " " + word;
        if (!line.empty() && !fits(longer)) {
            lines.push_back(line);
            line = word;
        } else {
            line = longer;
        }
        word.clear();
    };
    for (const char c : printable(text).substr(0, 400)) {
        if (c == ' ')
            take_word();
        else
            word += c;
    }
    take_word();
    if (!line.empty()) lines.push_back(line);
    if (lines.size() > most_lines) {
        lines.resize(most_lines);
        lines.back() += " ...";
    }
    for (std::string& l : lines)
        for (int n = character_count(l) - 1; n > 3 && !fits(l); --n) l = shortened(l, n);
    return lines;
}

/// Draws text with its middle at x and its top at y.
void centred(Canvas& canvas, const std::string& text, const TextStyle& style, double x, double y,
             Colour colour = map_ink) {
    const TextImage image = set_text(text, style);
    canvas.text(image, x - image.width / 2.0, y, colour);
}

}  // namespace

Frame::Frame(const FloorMap& map, const Field& field, Units units)
    : map_(map), field_(field), units_(units) {
    title_ = wrapped(map.title, {27, true}, 960, 2);
    const std::string unit = map.unit.empty() ? "" : " [" + map.unit + "]";
    bar_title_ = wrapped(map.quantity + unit, {16, true}, right_margin - bar_gap + 14, 3);
    scale_ = std::min(widest_plot / map.room_width, tallest_plot / map.room_length);
    const double width = std::max(2.0, std::round(map.room_width * scale_)),
                 length = std::max(2.0, std::round(map.room_length * scale_));
    const double top = 16 + 34 * double(title_.size()) + 30 + 34;
    plot = {left_margin + std::floor((widest_plot - width) / 2), top, width, length};
    height_ = int(top + std::max(length, shortest_bar + 60) + below_plot);
}

bool Frame::constant() const {
    const auto low = field_.smallest(), high = field_.largest();
    return low && high->value - low->value < 0.01 * field_.scale().step;
}

std::string Frame::value_text(double value) const {
    const std::string unit = map_.unit.empty() ? "" : " " + map_.unit;
    return tick_text(value, std::min(0.1, field_.scale().step)) + unit;
}

std::string Frame::place_text(double x, double y) const {
    char text[80];
    const bool feet = units_ == Units::imperial;
    const double unit = feet ? 0.3048 : 1;
    std::snprintf(text, sizeof text, feet ? "(%.1f, %.1f) ft" : "(%.2f, %.2f) m", x / unit,
                  y / unit);
    return text;
}

std::string Frame::summary() const {
    const auto low = field_.smallest(), high = field_.largest();
    if (!low)
        return map_.low_is_good ? "no spot on this map is free for a box" : "no values on this map";
    if (constant()) return "the same everywhere: " + value_text(low->value);
    if (map_.low_is_good)
        return "best " + value_text(low->value) + " at " + place_text(low->x, low->y) + "; worst " +
               value_text(high->value) + " at " + place_text(high->x, high->y);
    return "lowest " + value_text(low->value) + " at " + place_text(low->x, low->y) + "; highest " +
           value_text(high->value) + " at " + place_text(high->x, high->y);
}

void Frame::draw_around(Canvas& canvas) const {
    draw_title(canvas);
    draw_axes(canvas);
    if (!field_.valid_values().empty()) draw_colour_bar(canvas);
    draw_key(canvas);
}

void Frame::draw_title(Canvas& canvas) const {
    double y = 14;
    for (const std::string& line : title_) {
        centred(canvas, line, {27, true}, canvas.width() / 2.0, y);
        y += 34;
    }
    centred(canvas, summary(), {18}, canvas.width() / 2.0, y + 2, soft_ink);
}

void Frame::draw_axes(Canvas& canvas) const {
    canvas.outline(plot, map_ink, 2);
    canvas.fill({plot.x - 1, plot.y - 6, plot.width + 2, 6}, map_ink);  // the front wall, heavier
    const std::string front = "front wall (listeners face it)";
    TextImage text = set_text(front, {17, true});
    canvas.text(
        text,
        std::clamp(plot.x + (plot.width - text.width) / 2, 4.0, canvas.width() - 4.0 - text.width),
        plot.y - 12 - text.height, map_ink);

    const bool feet = units_ == Units::imperial;
    const double unit = feet ? 0.3048 : 1;
    // Ticks at least 55 px apart, one step for both axes so that distances compare.
    const double step = round_step(55 / scale_ / unit);
    for (const double tick : Scale{0, map_.room_width / unit, step}.ticks()) {
        const double x = pixel(tick * unit, 0).x;
        canvas.lines({{{x, plot.bottom()}, {x, plot.bottom() + 7}}}, map_ink, 1.5);
        centred(canvas, tick_text(tick, step), {15}, x, plot.bottom() + 9);
    }
    for (const double tick : Scale{0, map_.room_length / unit, step}.ticks()) {
        const double y = pixel(0, tick * unit).y;
        canvas.lines({{{plot.x - 7, y}, {plot.x, y}}}, map_ink, 1.5);
        const TextImage number = set_text(tick_text(tick, step), {15});
        canvas.text(number, plot.x - 11 - number.width, y - number.height / 2.0, map_ink);
    }
    const std::string name = feet ? "ft" : "m";
    text = set_text("x, from the left wall [" + name + "]", {16});
    canvas.text(
        text,
        std::clamp(plot.x + (plot.width - text.width) / 2, 4.0, canvas.width() - 4.0 - text.width),
        plot.bottom() + 32, map_ink);
    text = set_text("y, from the front wall [" + name + "]", {16, false, true});
    canvas.text(text, plot.x - 74, std::max(plot.y - 4, plot.y + (plot.height - text.height) / 2),
                map_ink);
}

void Frame::draw_colour_bar(Canvas& canvas) const {
    const Scale& scale = field_.scale();
    double y = plot.y - 6;
    const double x = plot.right() + bar_gap;
    for (const std::string& line : bar_title_) {
        canvas.text(set_text(line, {16, true}), x, y, map_ink);
        y += 21;
    }
    y += 8;
    const double note = map_.low_is_good ? 40 : 8;
    const Rectangle bar{x, y, bar_width, std::max(plot.bottom() - y - note, shortest_bar - 80)};
    for (int row = 0; row < int(bar.height); ++row) {
        const double value = scale.high - (row + 0.5) / bar.height * (scale.high - scale.low);
        canvas.fill({bar.x, bar.y + row, bar.width, 1}, field_.colour(value));
    }
    canvas.outline({bar.x, bar.y, bar.width, std::floor(bar.height)}, map_ink, 1.2);
    for (const double tick : scale.ticks()) {
        const double at = bar.bottom() - scale.position(tick) * bar.height;
        canvas.lines({{{bar.right(), at}, {bar.right() + 6, at}}}, map_ink, 1.3);
        const TextImage number = set_text(tick_text(tick, scale.step), {15});
        canvas.text(number, bar.right() + 10, at - number.height / 2.0, map_ink);
    }
    if (!map_.low_is_good) return;
    const double middle = bar.x + bar.width / 2;  // an arrow downwards and the word
    for (int row = 0; row < 12; ++row)
        canvas.fill({middle - (12 - row) * 0.75, bar.bottom() + 15 + row, (12 - row) * 1.5, 1},
                    map_ink);
    canvas.text(set_text("better", {17, true}), middle + 16, bar.bottom() + 10, map_ink);
}

void Frame::draw_key(Canvas& canvas) const {
    struct Entry {
        int mark;
        std::string text;
    };
    std::vector<Entry> entries;
    if (!map_.seats.empty()) entries.push_back({0, "seat"});
    if (!map_.subs.empty()) entries.push_back({1, map_.subs.size() > 1 ? "subs" : "sub"});
    if (!map_.keep_outs.empty()) entries.push_back({2, "kept free"});
    entries.push_back({3, map_.low_is_good ? "no box can stand here" : "no value here"});
    double width = -28;
    for (const Entry& e : entries) width += 24 + set_text(e.text, {15}).width + 28;
    double x = (canvas.width() - width) / 2;
    const double y = canvas.height() - 26;
    for (const Entry& e : entries) {
        const Pixel p{x + 9, y};
        const Rectangle swatch{p.x - 9, p.y - 8, 18, 16};
        if (e.mark == 0) {
            canvas.disc(p, 8, map_ink);
            canvas.disc(p, 6, map_paper);
        } else if (e.mark == 1) {
            canvas.diamond(p, 10, map_ink);
        } else {
            if (e.mark == 3) canvas.fill(swatch, {226, 226, 226});
            if (e.mark == 2) canvas.hatch(swatch, {150, 150, 150}, 8, 1.4);
            canvas.outline(swatch, {110, 110, 110}, 1);
        }
        const TextImage text = set_text(e.text, {15});
        canvas.text(text, x + 24, y - text.height / 2.0, map_ink);
        x += 24 + text.width + 28;
    }
}

}  // namespace boxroom
