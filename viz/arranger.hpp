#pragma once
#include <optional>
#include <string>
#include <vector>

#include "results/room_view.hpp"
#include "viz/snapping.hpp"

namespace boxroom {

/// What a user can do to an arrangement, without any window: every move is snapped here, so a box
/// never ends in a wall, a keep-out or another box. Things are numbered: boxes first, then seats.
class Arranger {
  public:
    /// Keeps a reference to the view.
    explicit Arranger(const RoomView& view);

    const Arrangement& now() const { return now_; }
    int things() const { return boxes() + static_cast<int>(now_.seats.size()); }
    int boxes() const { return static_cast<int>(now_.boxes.size()); }
    bool is_box(int thing) const { return thing < boxes(); }
    const std::string& name(int thing) const;
    /// Centre of the box on the floor, or the seat.
    Point place(int thing) const;
    BoxSize box() const { return box_; }

    void move(int thing, Point wanted, double magnet);
    /// Puts a box as it stands there, moved aside only where another box is in the way.
    void take_place(int box, const StandingBox& place);
    void set_frequency(double frequency);  ///< the nearest of the grid
    void step_frequency(int steps);
    void step_mode(int direction);  ///< exactly the next mode's
    /// A larger or smaller box that still goes between the walls; every box keeps its distance to
    /// the walls near it. False, and nothing changed, where there is no such box.
    bool scale_volume(double factor);
    void reset();
    /// What follows, up to the next call, is one step that undo() takes back.
    void begin_step();
    /// Seats, boxes and their size as before the last step that changed any; the frequency stays.
    /// False where there is nothing to take back.
    bool undo();
    /// What is not as it was to begin with: "sub" or "seat" by name, and the box's size.
    std::vector<std::string> changed() const;
    void show_on_walls(bool shown);

    int chosen() const { return chosen_; }
    void choose(int thing) { chosen_ = thing; }
    void choose_next() { chosen_ = (chosen_ + 1) % things(); }

    /// The thing's nearest mode to the frequency shown; nothing in a room without modes.
    std::optional<ModeTick> nearest_mode() const;

  private:
    FloorLimits limits_for(int thing) const;
    bool same_places(const Arrangement& other) const;
    std::size_t frequency_index() const;

    const RoomView& view_;
    Arrangement now_;
    std::vector<Arrangement> before_;  ///< a step each, the last one last
    BoxSize box_;
    int chosen_ = 0;
};

}  // namespace boxroom
