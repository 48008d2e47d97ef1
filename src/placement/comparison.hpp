#pragma once
#include <string>

#include "base/frequency_grid.hpp"
#include "results/comparison.hpp"
#include "results/listening.hpp"

namespace boxroom {

/// Seat averages and criteria of two answers on the first's frequencies; the second's decibels on
/// straight lines over ln f between its own. Within `band` the differences are summed up. Throws
/// Error where the two share no three frequencies in the band, or one's levels are relative and the
/// other's absolute.
Comparison compare(const std::string& first_name, const Listening& first,
                   const std::string& second_name, const Listening& second, const Band& band);

/// In two sentences: how far apart the curves are, and what became better or worse.
std::string comparison_words(const Comparison& comparison);

}  // namespace boxroom
