#pragma once
#include "viz/library/drawing_table.hpp"

namespace boxroom {

/// What draws, loaded when first asked for. Throws std::runtime_error where the library beside the
/// program is missing or another version's.
const DrawingTable& drawing();

/// Begins to load it while something is worked out; what goes wrong is said by drawing().
void expect_drawing();

}  // namespace boxroom
