#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace boxroom {

/// How large a room file may be. The files that people write stay far below all of these.
namespace room_file_bounds {
inline constexpr std::size_t bytes = 4'000'000;
inline constexpr int nesting = 16;           ///< brackets and braces within each other
inline constexpr int dots = 16;              ///< in one dotted key
inline constexpr std::size_t key = 200;      ///< bytes of a key
inline constexpr std::size_t text = 20'000;  ///< bytes of a text in quotes
}  // namespace room_file_bounds

/// Looks a TOML text over before it is parsed: the parser calls itself once for each level, so that
/// a deep one would run it out of stack. Knows strings and comments and nothing else; whether the
/// text is TOML is for the parser to say. Throws Error with the line of what is too large.
void require_within_bounds(std::string_view text, const std::string& file);

}  // namespace boxroom
