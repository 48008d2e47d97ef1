#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/units.hpp"
#include "picture/field.hpp"
#include "results/floor_map.hpp"
#include "viz/canvas.hpp"
#include "viz/text.hpp"

namespace boxroom {

inline constexpr Colour map_ink{28, 32, 40}, map_paper{255, 255, 255};

/// What stands round the floor plan: title, axes, colour bar, key; and where the plan itself goes.
/// The front wall is at the top, so y grows downwards as it does in the picture.
class Frame {
  public:
    Frame(const FloorMap& map, const Field& field, Units units);

    Canvas make_canvas() const { return Canvas(picture_width, height_); }
    void draw_around(Canvas& canvas) const;

    Pixel pixel(double x, double y) const { return {plot.x + x * scale_, plot.y + y * scale_}; }
    double metres_x(double pixel_x) const { return (pixel_x - plot.x) / scale_; }
    double metres_y(double pixel_y) const { return (pixel_y - plot.y) / scale_; }

    bool constant() const;                       ///< all valid values alike
    std::string value_text(double value) const;  ///< "1.2 dB"

    Rectangle plot;  ///< the room's floor, on whole pixels

  private:
    static constexpr int picture_width = 1000;

    void draw_title(Canvas& canvas) const;
    void draw_axes(Canvas& canvas) const;
    void draw_colour_bar(Canvas& canvas) const;
    void draw_key(Canvas& canvas) const;
    std::string summary() const;
    std::string place_text(double x, double y) const;

    const FloorMap& map_;
    const Field& field_;
    Units units_;
    double scale_ = 1;  ///< [px/m]
    int height_ = 0;
    std::vector<std::string> title_;      ///< lines
    std::vector<std::string> bar_title_;  ///< lines
};

}  // namespace boxroom
