#pragma once
#include "base/units.hpp"
#include "results/box_build.hpp"
#include "viz/drawing.hpp"

namespace boxroom {

/// The box from the front, the side and above (and from behind, where the amplifier has a hole;
/// and its brace), to one scale, with its measures in millimetres and sixteenths of an inch, the
/// leading unit above its line. Hidden edges are dashed.
Drawing box_drawing(const BoxBuild& build, Units lead);

/// One sheet of the cutting plan to scale, each piece lettered as in the cut list.
Drawing sheet_drawing(const BoxBuild& build, int sheet, Units lead);

}  // namespace boxroom
