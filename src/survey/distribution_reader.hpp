#pragma once
#include <string>

#include "room_file/toml_reader.hpp"
#include "survey/survey.hpp"

namespace boxroom {

/// The distribution at `key` of a table: a number; { uniform = [low, high] };
/// { normal = [mean, deviation], between = [low, high] }; { log_normal = [median, factor] }, where
/// a deviation multiplies or divides by the factor; { choice = [...], weights = [...] }. `limits`
/// is what each number has to be: normal ones are cut there, or at `between`. Where it is missing
/// the fallback stands for it, or a fault without one. Faults go to the reader's list.
Distribution read_distribution(TableReader& table, const std::string& key, Quantity quantity,
                               const Limits& limits, std::optional<double> fallback = {});
/// The same of whole numbers: one, or a choice of several.
Distribution read_counts(TableReader& table, const std::string& key, int low, int high,
                         int fallback);
/// "a", ["a", "b"] or { choice = ["a", "b"], weights = [2, 1] }.
NamedChoice read_names(TableReader& table, const std::string& key);

}  // namespace boxroom
