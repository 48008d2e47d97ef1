#pragma once
#include "base/units.hpp"
#include "viz/arranger.hpp"
#include "viz/window/curve_panel.hpp"
#include "viz/window/field_slice.hpp"
#include "viz/window/patches.hpp"
#include "viz/window/room_scene.hpp"
#include "viz/window/stage.hpp"
#include "viz/window/text_layer.hpp"

namespace boxroom {

/// What is written over the picture at this moment.
struct Notice {
    std::string message;  ///< what happened last, or what to do
    std::string working;  ///< what runs beside the window; empty: nothing
    bool show_keys = false;
};

/// Everything that is written or laid flat over the picture: title, names, scale, numbers, keys.
class Overlay {
  public:
    Overlay(const RoomView& view, const RoomScene& scene, Stage& stage, Units units);

    void draw(const Arranger& arranger, const RoomAnswer& answer, const FieldSlice& slice,
              CurvePanel& curves, const Notice& notice);
    const TextLayer& text() const { return text_; }

    /// The areas inside the axes; the numbers of the axes stand outside.
    static Rectangle level_chart(const Rectangle& window);
    static Rectangle spread_chart(const Rectangle& window);

  private:
    /// Something to be named in the picture, y downwards.
    struct Mark {
        std::string name;
        Pixel at;
        double radius;
        Lettering style;
    };
    void draw_title(const RoomAnswer& answer);
    void add_fixtures(std::vector<Mark>& marks) const;
    void draw_names(const Arranger& arranger, const BoxSize& box);
    void draw_constructions();
    void draw_scale(const FieldSlice& slice, const RoomAnswer& answer);
    void draw_mode_orders(CurvePanel& curves);
    void draw_criteria(const Arranger& arranger, const RoomAnswer& answer);
    void draw_key_to_curves(const RoomAnswer& answer);
    void draw_notice(const Arranger& arranger, const Notice& notice);
    void draw_keys();

    const RoomView& view_;
    const RoomScene& scene_;
    Stage& stage_;
    Units units_;
    Patches patches_;  ///< before the text: drawn under it
    TextLayer text_;
};

}  // namespace boxroom
