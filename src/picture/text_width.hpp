#pragma once
#include <string>

namespace boxroom {

/// Width that a line of text does not exceed, in the unit of `size`, which is the font's size: in
/// Helvetica or a font of the same measures (Arial, Liberation Sans), which SVG asks for, and in
/// the font that pictures are drawn with. Sum of the larger width of each character, without
/// kerning, which makes a pair narrower. `text` is UTF-8 and is passed through printable() first.
double text_width(const std::string& text, double size, bool bold = false);

}  // namespace boxroom
