#pragma once
#include <span>
#include <string>

#include "results/sets.hpp"

namespace boxroom {

std::string sets_csv(const SetRanking& ranking);

/// The shared equaliser for a signal processor at 48 and 96 kHz: b0, b1, b2, a1, a2 with a0 = 1 and
/// y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]. Both files say so.
std::string equaliser_csv(std::span<const EqFilter> filters);
std::string equaliser_json(std::span<const EqFilter> filters);

}  // namespace boxroom
