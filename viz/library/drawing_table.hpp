#pragma once
#include <optional>
#include <string>

#include "base/units.hpp"
#include "picture/drawing.hpp"
#include "results/floor_map.hpp"
#include "viz/window/room_window.hpp"

namespace boxroom {

/// What is wanted of a window.
struct WindowWish {
    std::optional<std::string> replay;  ///< events to play
    std::optional<std::string> record;  ///< a file for the events of a window that is shown
    bool shown = false;                 ///< until somebody closes it
    bool picture = false;               ///< of the end
};

struct WindowEnd {
    WindowState state;
    std::string picture;  ///< PNG, if it was wanted
};

/// What needs VTK, OpenGL or X11. These take longer to load than most answers take to find, so they
/// stand in a library of their own, libboxroom_drawing.so, that the program loads when something is
/// to be drawn (app/drawing.hpp). This table is all that the two know of each other; they are built
/// together, and `version` says so.
struct DrawingTable {
    const char* version;
    std::string (*floor_map_png)(const FloorMap&, Units);
    std::string (*floor_map_vti)(const FloorMap&);
    std::string (*drawing_png)(const Drawing&);
    /// Throws Error where no window can be opened.
    void (*require_display)();
    WindowEnd (*use_window)(const RoomView&, const WindowOptions&, const WindowWish&);
};

}  // namespace boxroom

/// The library's one door.
extern "C" const boxroom::DrawingTable* boxroom_drawing_table();
