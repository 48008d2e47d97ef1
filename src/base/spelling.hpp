#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace boxroom {

/// Insertions, deletions, substitutions and swaps of neighbouring letters that lead from a to b
/// (optimal string alignment; Damerau, CACM 7(3) 1964); capitals count as small letters.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known word nearest to `word`; empty when nothing is near, which means more than one edit for
/// every three letters (one for shorter words). Of equally near words the first wins.
std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

}  // namespace boxroom
