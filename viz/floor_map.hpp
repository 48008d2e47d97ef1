#pragma once
#include <string>

#include "base/units.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// A PNG picture of the map, drawn on the CPU: needs no display. Returns the file's bytes.
std::string floor_map_png(const FloorMap& map, Units units = Units::metric);
/// The same values as a VTK image-data file (.vti); returns the file's bytes.
std::string floor_map_vti(const FloorMap& map);

}  // namespace boxroom
