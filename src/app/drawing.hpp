#pragma once
#include "viz/library/drawing_table.hpp"

namespace boxroom {

/// What draws, loaded when first asked for. Throws std::runtime_error where the library beside the
/// program is missing or another version's.
const DrawingTable& drawing();

/// Begins to load it while something is worked out, and is done with that before it goes out of
/// scope; what goes wrong is said by drawing(). A program that ended while its libraries were still
/// being set up would take them down under the thread that does so.
class DrawingAhead {
  public:
    DrawingAhead();
    ~DrawingAhead();
    DrawingAhead(const DrawingAhead&) = delete;
    DrawingAhead& operator=(const DrawingAhead&) = delete;
};

}  // namespace boxroom
