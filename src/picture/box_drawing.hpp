#pragma once
#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "picture/drawing.hpp"
#include "results/box_build.hpp"

namespace boxroom {

/// The box from the front, the side and above (and from behind, where the amplifier has a hole;
/// and its brace), to one scale, with its measures in millimetres and sixteenths of an inch, the
/// leading unit above its line. Hidden edges are dashed.
Drawing box_drawing(const BoxBuild& build, Units lead);

/// One sheet of the cutting plan to scale, each piece lettered as in the cut list.
Drawing sheet_drawing(const BoxBuild& build, int sheet, Units lead);

/// All of them by their file's name without ending, the box first.
std::vector<std::pair<std::string, Drawing>> build_drawings(const BoxBuild& build, Units lead);

}  // namespace boxroom
