#pragma once
#include <string>
#include <string_view>

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

/// The text as the font can show it (Latin-1): typographic dashes and quotation marks become their
/// plain forms, line breaks become spaces, everything else the font lacks (and broken UTF-8)
/// becomes '?'.
std::string printable(std::string_view utf8);

/// At most `characters` characters (not bytes), ending in "..." where something was cut. Expects
/// the output of printable().
std::string shortened(const std::string& text, int characters);

/// Number of characters in valid UTF-8.
int character_count(std::string_view utf8);

}  // namespace boxroom
