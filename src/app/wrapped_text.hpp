#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// Words in lines of at most `width` characters, each line after `indent` blanks; a word longer
/// than a line stands alone. Ends with a line break.
std::string wrapped(std::string_view text, int indent = 0, int width = 90);

}  // namespace boxroom
