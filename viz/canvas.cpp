#include "viz/canvas.hpp"

#include <algorithm>
#include <cmath>

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkUnsignedCharArray.h>

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
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) set(x, y, paper);
}

Colour Canvas::at(int x, int y) const {
    const std::uint8_t* p = &rgb_[(std::size_t(y) * std::size_t(width_) + std::size_t(x)) * 3];
    return {p[0], p[1], p[2]};
}

void Canvas::set(int x, int y, Colour colour) {
    std::uint8_t* p = &rgb_[(std::size_t(y) * std::size_t(width_) + std::size_t(x)) * 3];
    p[0] = colour.r;
    p[1] = colour.g;
    p[2] = colour.b;
}

void Canvas::blend(int x, int y, Colour colour, double share) {
    if (x < 0 || y < 0 || x >= width_ || y >= height_ || share <= 0) return;
    const double s = std::min(share, 1.0);
    const Colour old = at(x, y);
    const auto mix = [s](int a, int b) { return std::uint8_t(a + s * (b - a) + 0.5); };
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
    if (strokes.empty()) return;
    const double reach = line_width / 2 + 1;
    const auto box_of = [](const Stroke& s) {
        return Rectangle{std::min(s.from.x, s.to.x), std::min(s.from.y, s.to.y),
                         std::abs(s.to.x - s.from.x), std::abs(s.to.y - s.from.y)};
    };
    Rectangle all = box_of(strokes.front());
    for (const Stroke& s : strokes) {
        const Rectangle box = box_of(s);
        const double right = std::max(all.right(), box.right()),
                     bottom = std::max(all.bottom(), box.bottom());
        all.x = std::min(all.x, box.x);
        all.y = std::min(all.y, box.y);
        all.width = right - all.x;
        all.height = bottom - all.y;
    }
    const PixelRange part = touched(*this, all.grown(reach));  // the mask spans no more than this
    const int columns = part.x1 - part.x0 + 1, rows = part.y1 - part.y0 + 1;
    if (columns <= 0 || rows <= 0) return;
    std::vector<float> mask(std::size_t(columns) * std::size_t(rows), 0.0f);
    const auto covered = [&](int x, int y) -> float& {
        return mask[std::size_t(y - part.y0) * std::size_t(columns) + std::size_t(x - part.x0)];
    };
    for (const Stroke& s : strokes) {
        // Rounding may put the edge of one box a pixel beyond that of all together.
        PixelRange range = touched(*this, box_of(s).grown(reach));
        range.x1 = std::min(range.x1, part.x1), range.y1 = std::min(range.y1, part.y1);
        for (int y = range.y0; y <= range.y1; ++y) {
            for (int x = range.x0; x <= range.x1; ++x) {
                const double share = line_width / 2 + 0.5 - distance_to(s, x + 0.5, y + 0.5);
                covered(x, y) = std::max(covered(x, y), float(std::clamp(share, 0.0, 1.0)));
            }
        }
    }
    for (int y = part.y0; y <= part.y1; ++y)
        for (int x = part.x0; x <= part.x1; ++x) blend(x, y, colour, double(covered(x, y)));
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
    vtkNew<vtkImageData> image;
    image->SetDimensions(width_, height_, 1);
    image->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
    auto* out = static_cast<std::uint8_t*>(image->GetScalarPointer());
    const std::size_t row = std::size_t(width_) * 3;
    for (int y = 0; y < height_; ++y)  // VTK counts rows from the bottom
        std::copy_n(&rgb_[std::size_t(y) * row], row, out + std::size_t(height_ - 1 - y) * row);
    vtkNew<vtkPNGWriter> writer;
    writer->SetInputData(image);
    writer->SetCompressionLevel(1);  // higher levels take several times as long for a few per cent
    writer->AddText("Software", "boxroom");  // who may write over it: files/written_mark
    writer->WriteToMemoryOn();
    writer->Write();
    vtkUnsignedCharArray* bytes = writer->GetResult();
    return {reinterpret_cast<const char*>(bytes->GetPointer(0)),
            std::size_t(bytes->GetNumberOfValues())};
}

}  // namespace boxroom
