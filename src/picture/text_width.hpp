#pragma once
#include <string>

namespace boxroom {

/// Width of a line of text in Helvetica, or a font of the same measures (Arial, Liberation Sans),
/// in the unit of `size`, which is the font's size: sum of the characters' widths in the tables of
/// Adobe's "Core 14" font metrics (Helvetica.afm, Helvetica-Bold.afm), without kerning, which makes
/// a pair narrower. `text` is UTF-8 and is passed through printable() first.
double text_width(const std::string& text, double size, bool bold = false);

}  // namespace boxroom
