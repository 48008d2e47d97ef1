#pragma once
#include <vector>

#include "results/floor_map.hpp"

namespace boxroom {

/// A point in grid units: x from 0 to nx - 1, y from 0 to ny - 1.
struct GridPoint {
    double x = 0, y = 0;
};

using Isoline = std::vector<GridPoint>;  ///< closed where the last point equals the first

/// The lines on which the map has the value `level`, by marching squares with linear interpolation
/// along the grid's edges (a saddle is split by the mean of its four corners). Only cells whose
/// four corners are valid and finite take part, so lines stop at the edge of the valid area.
std::vector<Isoline> isolines(const FloorMap& map, double level);

}  // namespace boxroom
