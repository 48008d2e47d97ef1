// On its own: X11's header defines words such as None and Status as macros.
#include "viz/window/display.hpp"

#include <X11/Xlib.h>

#include "base/error.hpp"

namespace boxroom {

void require_display() {
    Display* display = XOpenDisplay(nullptr);
    if (!display)
        throw Error("view", "there is no display to open a window on",
                    "log in to a desktop, or run it under `xvfb-run -a` to draw without a screen");
    int unused = 0;
    const bool can_draw = XQueryExtension(display, "GLX", &unused, &unused, &unused);
    XCloseDisplay(display);
    if (!can_draw)
        throw Error("view", "this display cannot draw in three dimensions (no GLX)",
                    "run it under `xvfb-run -a`, or install the display's OpenGL driver");
}

}  // namespace boxroom
