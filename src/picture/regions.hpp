#pragma once
#include <vector>

#include "picture/isolines.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// The map with one more point all round, in which every point without a value that touches one
/// with a value (at a side or a corner) has the mean of those it touches. What is drawn of it
/// reaches half a spacing beyond the last points, as `Field` does, once it is cut to `valid_cells`.
FloorMap carried_on(const FloorMap& map);

/// The area in which the map is at least `level`: polygons that do not overlap, all the same way
/// round, by the rules of `isolines` (linear along the edges of a cell, a saddle split by its
/// mean). Whole cells beside each other are one polygon.
std::vector<Isoline> region_above(const FloorMap& map, double level);

/// The cells of half a spacing round each valid point, those of a row in one piece: corners in the
/// map's grid units.
struct GridRectangle {
    GridPoint from, to;
};
std::vector<GridRectangle> valid_cells(const FloorMap& map);

}  // namespace boxroom
