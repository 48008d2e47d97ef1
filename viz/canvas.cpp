#include "viz/canvas.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "viz/png_bytes.hpp"

namespace boxroom {
namespace {

struct PixelRange {
    int x0, y0, x1, y1;  ///< both ends included
};

/// The pixels a rectangle touches. Clamped as doubles, since far-off places would overflow an int.
PixelRange touched(const Canvas& canvas, const Rectangle& where) {
    const auto clamped = [](double v, int size) {
        return int(std::clamp(std::floor(v), -1.0, double(size)));
    };
    return {std::max(0, clamped(where.x, canvas.width())),
            std::max(0, clamped(where.y, canvas.height())),
            std::min(canvas.width() - 1, clamped(where.right(), canvas.width())),
            std::min(canvas.height() - 1, clamped(where.bottom(), canvas.height()))};
}

/// Length of [low, high] inside the pixel [i, i + 1].
double share_of_pixel(int i, double low, double high) {
    return std::clamp(std::min(high, i + 1.0) - std::max(low, double(i)), 0.0, 1.0);
}

double distance_to(const Stroke& stroke, double x, double y) {
    const double dx = stroke.to.x - stroke.from.x, dy = stroke.to.y - stroke.from.y;
    const double square = dx * dx + dy * dy;
    double t = 0;
    if (square > 0)
        t = std::clamp(((x - stroke.from.x) * dx + (y - stroke.from.y) * dy) / square, 0.0, 1.0);
    const double ex = x - stroke.from.x - t * dx, ey = y - stroke.from.y - t * dy;
    return std::sqrt(ex * ex + ey * ey);
}

}  // namespace

Canvas::Canvas(int width, int height, Colour paper)
    : width_(width), height_(height), rgb_(std::size_t(width) * std::size_t(height) * 3) {
    if (rgb_.empty()) return;
    for (int x = 0; x < width; ++x) set(x, 0, paper);
    const std::size_t row = place(0, 1);
    for (std::size_t y = 1; y < std::size_t(height); ++y)
        std::copy_n(rgb_.begin(), row, rgb_.begin() + std::ptrdiff_t(y * row));
}

void Canvas::blend(int x, int y, Colour colour, double share) {
    if (x < 0 || y < 0 || x >= width_ || y >= height_ || share <= 0) return;
    if (share >= 1) return set(x, y, colour);
    const Colour old = at(x, y);
    const auto mix = [share](int a, int b) {
        return std::uint8_t(std::lround(a + share * (b - a)));
    };
    set(x, y, {mix(old.r, colour.r), mix(old.g, colour.g), mix(old.b, colour.b)});
}

void Canvas::fill(const Rectangle& where, Colour colour, double opacity) {
    const PixelRange range = touched(*this, where);
    for (int y = range.y0; y <= range.y1; ++y) {
        const double row = share_of_pixel(y, where.y, where.bottom()) * opacity;
        for (int x = range.x0; x <= range.x1; ++x)
            blend(x, y, colour, row * share_of_pixel(x, where.x, where.right()));
    }
}

void Canvas::outline(const Rectangle& where, Colour colour, double line_width) {
    const Pixel a{where.x, where.y}, b{where.right(), where.y}, c{where.right(), where.bottom()},
        d{where.x, where.bottom()};
    lines({{a, b}, {b, c}, {c, d}, {d, a}}, colour, line_width);
}

void Canvas::hatch(const Rectangle& where, Colour colour, double spacing, double line_width) {
    const PixelRange range = touched(*this, where);
    for (int y = range.y0; y <= range.y1; ++y) {
        for (int x = range.x0; x <= range.x1; ++x) {
            const double cx = x + 0.5, cy = y + 0.5;
            if (cx < where.x || cx > where.right() || cy < where.y || cy > where.bottom()) continue;
            // Lines x + y = n spacing; the distance from the nearest is |offset| / sqrt 2.
            const double offset = (cx + cy) - spacing * std::round((cx + cy) / spacing);
            blend(x, y, colour, line_width / 2 + 0.5 - std::abs(offset) * M_SQRT1_2);
        }
    }
}

void Canvas::lines(const std::vector<Stroke>& strokes, Colour colour, double line_width) {
    const double reach = line_width / 2 + 1;
    std::vector<PixelRange> ranges;
    int first = height_, last = -1;
    for (const Stroke& s : strokes) {
        const Rectangle box{std::min(s.from.x, s.to.x), std::min(s.from.y, s.to.y),
                            std::abs(s.to.x - s.from.x), std::abs(s.to.y - s.from.y)};
        const PixelRange& range = ranges.emplace_back(touched(*this, box.grown(reach)));
        first = std::min(first, range.y0), last = std::max(last, range.y1);
    }
    // A few rows at a time, so that the mask stays at hand.
    constexpr int most_rows = 16;
    std::vector<float> mask;
    std::vector<std::size_t> here;
    for (int top = first; top <= last; top += most_rows) {
        const int bottom = std::min(top + most_rows - 1, last);
        int left = width_, right = -1;
        here.clear();
        for (std::size_t n = 0; n < strokes.size(); ++n) {
            const PixelRange& range = ranges[n];
            if (range.y1 < top || range.y0 > bottom || range.x0 > range.x1) continue;
            here.push_back(n);
            left = std::min(left, range.x0), right = std::max(right, range.x1);
        }
        if (here.empty()) continue;
        const std::size_t columns = std::size_t(right - left) + 1;
        mask.assign(columns * (std::size_t(bottom - top) + 1), 0.0f);
        const auto covered = [&](int x, int y) -> float& {
            return mask[std::size_t(y - top) * columns + std::size_t(x - left)];
        };
        for (const std::size_t n : here)
            for (int y = std::max(ranges[n].y0, top); y <= std::min(ranges[n].y1, bottom); ++y)
                for (int x = ranges[n].x0; x <= ranges[n].x1; ++x) {
                    const double share =
                        line_width / 2 + 0.5 - distance_to(strokes[n], x + 0.5, y + 0.5);
                    covered(x, y) = std::max(covered(x, y), float(std::clamp(share, 0.0, 1.0)));
                }
        for (int y = top; y <= bottom; ++y)
            for (int x = left; x <= right; ++x) blend(x, y, colour, double(covered(x, y)));
    }
}

void Canvas::disc(Pixel centre, double radius, Colour colour) {
    const PixelRange range = touched(*this, Rectangle{centre.x, centre.y, 0, 0}.grown(radius + 1));
    for (int y = range.y0; y <= range.y1; ++y)
        for (int x = range.x0; x <= range.x1; ++x)
            blend(x, y, colour, radius + 0.5 - std::hypot(x + 0.5 - centre.x, y + 0.5 - centre.y));
}

void Canvas::diamond(Pixel centre, double radius, Colour colour) {
    const PixelRange range = touched(*this, Rectangle{centre.x, centre.y, 0, 0}.grown(radius + 1));
    for (int y = range.y0; y <= range.y1; ++y) {
        for (int x = range.x0; x <= range.x1; ++x) {
            const double inside =
                radius - std::abs(x + 0.5 - centre.x) - std::abs(y + 0.5 - centre.y);
            blend(x, y, colour, inside * M_SQRT1_2 + 0.5);
        }
    }
}

void Canvas::text(const TextImage& image, double x, double y, Colour colour) {
    const int left = int(std::lround(x)), top = int(std::lround(y));
    for (int j = 0; j < image.height; ++j)
        for (int i = 0; i < image.width; ++i)
            blend(
                left + i, top + j, colour,
                image.coverage[std::size_t(j) * std::size_t(image.width) + std::size_t(i)] / 255.0);
}

std::string Canvas::png() const {
    return png_bytes(width_, height_, rgb_);
}

}  // namespace boxroom
