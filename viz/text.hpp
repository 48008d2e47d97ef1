#pragma once
#include <string_view>

#include "picture/printable.hpp"
#include "viz/canvas.hpp"

namespace boxroom {

struct TextStyle {
    int size = 15;  ///< [px], about the height of a line
    bool bold = false;
    bool upwards = false;  ///< turned by 90 degrees, read from bottom to top
};

/// Sets one line of text with the font that comes with VTK. `text` is UTF-8 and is passed through
/// printable() first. Needs no display. Throws Error if VTK was linked without its font module.
TextImage set_text(std::string_view text, const TextStyle& style);

}  // namespace boxroom
