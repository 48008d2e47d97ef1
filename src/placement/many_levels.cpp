#include "placement/many_levels.hpp"

#include "placement/array_vectors.hpp"

namespace boxroom {

std::vector<double> levels_db(std::span<const double> mean_square_pressure) {
    std::vector<double> level(mean_square_pressure.size());
    array_vectors().levels(mean_square_pressure.data(), static_cast<int>(level.size()),
                           level.data());
    return level;
}

}  // namespace boxroom
