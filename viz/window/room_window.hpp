#pragma once
#include <array>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "results/room_view.hpp"

namespace boxroom {

struct WindowOptions {
    Units units = Units::metric;
    int width = 1280, height = 760;
    bool off_screen = false;
    /// Writes a file beside the results, under a name not yet taken: stem, ending, bytes; returns
    /// the path. May throw Error.
    std::function<std::string(const std::string&, const std::string&, const std::string&)> save;
};

/// What the window shows at the moment, for programs.
struct WindowState {
    RoomAnswer answer;  ///< settled: nothing is left to be worked out
    std::string field;  ///< "level", "pressure" or "none"
    double height = 0;  ///< of the window [px]; pixels below count from its lower left corner
    struct Handle {
        std::string kind, name;  ///< "sub" or "seat"
        double x = 0, y = 0;     ///< a pixel to grab it by
        Point grab;              ///< the place in the room under that pixel
    };
    std::vector<Handle> handles;
    /// Rows of the matrix that takes (x, y, z, 1) in the room to clip coordinates, and the part of
    /// the window [px] these fill: x, y, width, height.
    std::array<double, 16> projection{};
    std::array<double, 4> viewport{}, plot_area{};
    double level_low = 0, level_high = 0, first_hz = 0, last_hz = 0;
    struct Label {
        std::string text;
        std::array<double, 4> where{};  ///< x, y, width, height
    };
    std::vector<Label> labels;
    std::vector<double> update_seconds, draw_seconds;  ///< of every frame so far
    std::vector<std::string> saved;                    ///< files written
    std::vector<std::string> changed;                  ///< what is not as at the beginning
    std::string message;
};

/// The room to stand in. Needs a display: call require_display() first.
class RoomWindow {
  public:
    RoomWindow(const RoomView& view, WindowOptions options);
    ~RoomWindow();

    void show();  ///< until it is closed
    /// Plays events written by VTK's event recorder; every answer is waited for, so that the end
    /// does not depend on the machine's speed. Throws Error if the file cannot be read.
    void replay(const std::string& file);
    /// Records the events of show() to a file.
    void record(const std::string& file);
    std::string picture();  ///< PNG
    WindowState state();

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace boxroom
