#pragma once
#include <span>
#include <vector>

namespace boxroom {

/// level_db of many, to 1e-11 dB.
std::vector<double> levels_db(std::span<const double> mean_square_pressure);

}  // namespace boxroom
