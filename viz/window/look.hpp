#pragma once
#include <array>

#include "viz/canvas.hpp"

/// Colours of the window, in one place.
namespace boxroom::look {

inline constexpr Colour paper{250, 249, 245}, ink{34, 44, 54}, faint{120, 128, 134},
    grid{226, 226, 220}, edge{92, 102, 110}, box{66, 58, 54}, cone{214, 208, 198},
    chosen{196, 60, 30}, keep_out{176, 96, 66}, floor{236, 232, 222}, half_space{112, 112, 112},
    target{40, 130, 70}, cursor{196, 60, 30}, notice{150, 60, 20};

/// Seats, told apart by lightness too; repeated after eight.
inline constexpr std::array<Colour, 8> seats{{{31, 91, 153},
                                              {214, 128, 30},
                                              {112, 62, 138},
                                              {20, 140, 130},
                                              {184, 70, 110},
                                              {110, 120, 20},
                                              {80, 150, 214},
                                              {130, 84, 50}}};
/// Walls by construction, in the order in which they turn up.
inline constexpr std::array<Colour, 6> walls{{{190, 92, 70},
                                              {206, 168, 60},
                                              {84, 150, 190},
                                              {120, 152, 92},
                                              {150, 118, 176},
                                              {128, 128, 128}}};

inline Colour seat(std::size_t index) {
    return seats[index % seats.size()];
}

/// A colour laid over another with this opacity. What always lies on the same ground is mixed
/// beforehand: VTK draws everything translucent through extra full-window passes, which take more
/// than the rest of the picture without a graphics card.
inline Colour over(Colour top, Colour ground, double opacity) {
    const auto mix = [&](int a, int b) {
        return static_cast<std::uint8_t>(a + (b - a) * opacity + 0.5);
    };
    return {mix(ground.r, top.r), mix(ground.g, top.g), mix(ground.b, top.b)};
}

/// The colour as VTK takes it.
inline std::array<double, 3> rgb(Colour c) {
    return {c.r / 255.0, c.g / 255.0, c.b / 255.0};
}

}  // namespace boxroom::look
