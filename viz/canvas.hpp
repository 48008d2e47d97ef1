#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "picture/paper.hpp"

namespace boxroom {

/// Coverage (0 none, 255 full) of a piece of text, row by row from the top.
struct TextImage {
    int width = 0, height = 0;
    std::vector<std::uint8_t> coverage;
};

/// An RGB picture drawn on the CPU. Everything is clipped to the picture; every shape has smoothed
/// edges: a pixel takes the share of the colour that the shape covers of it (by its distance from
/// the shape's edge, exact for straight edges along the axes).
class Canvas {
  public:
    Canvas(int width, int height, Colour paper = {255, 255, 255});
    int width() const { return width_; }
    int height() const { return height_; }
    Colour at(int x, int y) const {
        const std::uint8_t* p = &rgb_[place(x, y)];
        return {p[0], p[1], p[2]};
    }
    void set(int x, int y, Colour colour) {
        std::uint8_t* p = &rgb_[place(x, y)];
        p[0] = colour.r, p[1] = colour.g, p[2] = colour.b;
    }
    void blend(int x, int y, Colour colour, double share);

    void fill(const Rectangle& where, Colour colour, double opacity = 1);
    void outline(const Rectangle& where, Colour colour, double line_width);
    /// Slanted lines inside a rectangle; `spacing` is counted along x.
    void hatch(const Rectangle& where, Colour colour, double spacing, double line_width);
    /// All strokes in one pass, so that they do not darken where they meet.
    void lines(const std::vector<Stroke>& strokes, Colour colour, double line_width);
    void disc(Pixel centre, double radius, Colour colour);
    /// A square on its corner; `radius` from centre to corner.
    void diamond(Pixel centre, double radius, Colour colour);
    /// Text with its upper left corner at (x, y), rounded to whole pixels to stay sharp.
    void text(const TextImage& image, double x, double y, Colour colour);

    /// The picture as a PNG file's bytes.
    std::string png() const;

  private:
    std::size_t place(int x, int y) const {
        return (std::size_t(y) * std::size_t(width_) + std::size_t(x)) * 3;
    }

    int width_, height_;
    std::vector<std::uint8_t> rgb_;
};

}  // namespace boxroom
