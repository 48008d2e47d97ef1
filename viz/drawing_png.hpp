#pragma once
#include <string>

#include "picture/drawing.hpp"

namespace boxroom {

/// The page as a PNG file's bytes. Needs no display.
std::string drawing_png(const Drawing& drawing, double pixels_per_mm = 8);

}  // namespace boxroom
