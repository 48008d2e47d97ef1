#pragma once
#include <string>
#include <string_view>

namespace boxroom {

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
