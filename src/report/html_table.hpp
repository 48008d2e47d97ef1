#pragma once
#include <string>
#include <vector>

#include "results/criterion.hpp"

namespace boxroom {

/// Opens a table of the report, which may be wider than the window: it scrolls by itself, by
/// keyboard too. Title and heads are plain text; a head that begins with a blank stands over words,
/// the others over numbers. Rows follow, then table_end.
std::string open_table(const std::string& title, const std::vector<std::string>& heads);
/// "unevenness, dB": the head of a column of one criterion, which may break inside a long word.
std::string criterion_head(const Criterion& criterion);
/// A cell of what is HTML already.
std::string table_cell(const std::string& markup);
inline constexpr const char* table_end = "</tbody></table></div>\n";

}  // namespace boxroom
