#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "results/criterion.hpp"

namespace boxroom {

/// Key and value of every criterion; the score only where places are compared (`ranking`).
nlohmann::ordered_json criteria_json(const Criteria& criteria, bool ranking = false);

/// Columns of a ranking on the terminal: names, units, and the numbers of one place; as wide as
/// each other, without an end of line.
std::string criteria_names();
std::string criteria_units();
std::string criteria_cells(const Criteria& criteria);

/// A line each, of a response that stands alone; `reference` says what its level is counted from.
std::string criteria_lines(const Criteria& criteria, const std::string& reference);
/// "spread 2.1 dB, unevenness 3.4 dB ..." on one line, without an end of line.
std::string criteria_words(const Criteria& criteria);

}  // namespace boxroom
