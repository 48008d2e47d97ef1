#include "picture/colour_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace boxroom {
namespace {

struct Lab {
    double l, a, b;
};

constexpr std::array<double, 3> white{0.95047, 1.0, 1.08883};  // D65

/// Sand, sage, teal, blue, dark blue: the control points of a Bezier curve. L* falls by about 20
/// from point to point, so it falls along the whole curve; the hue runs from yellow to blue, the
/// axis that red-green blindness leaves alone. The curve lies inside sRGB (the points need not).
constexpr std::array<Lab, 5> points{
    {{92, -1, 27}, {73, -30, 22}, {52, -28, -10}, {32, -2, -34}, {14, 10, -27}}};

double to_linear(double s) {
    return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
}
double from_linear(double v) {
    return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}

double from_lab_function(double t) {
    constexpr double d = 6.0 / 29;
    return t > d ? t * t * t : 3 * d * d * (t - 4.0 / 29);
}

Colour to_rgb(const Lab& lab) {
    const double fy = (lab.l + 16) / 116;
    const double x = white[0] * from_lab_function(fy + lab.a / 500),
                 y = white[1] * from_lab_function(fy),
                 z = white[2] * from_lab_function(fy - lab.b / 200);
    const auto byte = [](double linear) {
        return std::uint8_t(
            std::lround(255 * std::clamp(from_linear(std::max(0.0, linear)), 0.0, 1.0)));
    };
    return {byte(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
            byte(-0.9692660 * x + 1.8760108 * y + 0.0415560 * z),
            byte(0.0556434 * x - 0.2040259 * y + 1.0572252 * z)};
}

/// Colour difference of CIE 1976: the straight distance in CIELAB.
double difference(const Lab& p, const Lab& q) {
    return std::hypot(p.l - q.l, p.a - q.a, p.b - q.b);
}

Lab on_curve(double t) {
    constexpr std::array<double, 5> binomial{1, 4, 6, 4, 1};
    Lab out{0, 0, 0};
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double weight = binomial[i] * std::pow(t, double(i)) * std::pow(1 - t, double(4 - i));
        out.l += weight * points[i].l;
        out.a += weight * points[i].a;
        out.b += weight * points[i].b;
    }
    return out;
}

constexpr int table_size = 1024;

/// Colours at equal differences along the curve, from its length summed over short chords.
std::array<Colour, table_size> make_table() {
    constexpr int chords = 2000;
    std::vector<double> length{0};
    for (int i = 0; i < chords; ++i)
        length.push_back(length.back() +
                         difference(on_curve(double(i) / chords), on_curve((i + 1.0) / chords)));
    std::array<Colour, table_size> table{};
    std::size_t i = 0;
    for (std::size_t k = 0; k < table.size(); ++k) {
        const double wanted = length.back() * double(k) / (table_size - 1);
        while (i + 2 < length.size() && length[i + 1] < wanted) ++i;
        table[k] = to_rgb(
            on_curve((double(i) + (wanted - length[i]) / (length[i + 1] - length[i])) / chords));
    }
    return table;
}

}  // namespace

Colour map_colour(double position) {
    static const std::array<Colour, table_size> table = make_table();
    const double clamped = std::isfinite(position) ? std::clamp(position, 0.0, 1.0) : 0.0;
    return table[std::size_t(std::lround(clamped * (table_size - 1)))];
}

double lightness(Colour colour) {
    const double y = 0.2126729 * to_linear(colour.r / 255.0) +
                     0.7151522 * to_linear(colour.g / 255.0) +
                     0.0721750 * to_linear(colour.b / 255.0);
    return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389.0 / 27;
}

}  // namespace boxroom
