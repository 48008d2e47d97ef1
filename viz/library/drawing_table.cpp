#include "viz/library/drawing_table.hpp"

#include "viz/drawing_png.hpp"
#include "viz/floor_map.hpp"
#include "viz/window/display.hpp"

namespace boxroom {
namespace {

WindowEnd use_window(const RoomView& view, const WindowOptions& options, const WindowWish& wish) {
    RoomWindow window(view, options);
    WindowEnd end;
    if (wish.replay) window.replay(*wish.replay);
    if (wish.picture) end.picture = window.picture();
    if (wish.record) window.record(*wish.record);
    if (wish.shown) window.show();
    end.state = window.state();
    return end;
}

}  // namespace
}  // namespace boxroom

const boxroom::DrawingTable* boxroom_drawing_table() {
    using namespace boxroom;
    static constexpr DrawingTable table{
        BOXROOM_VERSION, floor_map_png,
        floor_map_vti,   [](const Drawing& drawing) { return drawing_png(drawing); },
        require_display, use_window};
    return &table;
}
