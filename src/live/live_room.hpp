#pragma once
#include <vector>

#include "placement/listening.hpp"
#include "placement/spots.hpp"
#include "results/floor_map.hpp"
#include "solvers/prepared_room.hpp"

namespace boxroom {

/// What one arrangement of box, seats and walls gives.
struct LiveAnswer {
    Listening at_seats;
    std::vector<double> spread;  ///< across the seats, by frequency [dB]
    ClosedBox box;
    Enclosure outer;
    Point footprint;  ///< moved so that the box stays between the walls
    Facing facing = Facing::front;
    bool fits = true;  ///< off the keep-outs and clear of the seats
};

/// One box in a room whose parts are moved about: the same answers as `listen` and `rank`, and
/// nothing worked out again that the last change has not touched.
class LiveRoom {
  public:
    /// The box of the scenario where it has one, and its first sub's place.
    /// Throws Error as complete_driver and closed_box do.
    explicit LiveRoom(const Scenario& scenario);

    const Scenario& scenario() const { return scenario_; }
    /// Kept inside the room.
    void set_seat(int seat, const Point& at);
    void set_wall(int wall, const Wall& material);
    /// Every wall gives way by this factor more: all branches divided by it.
    void set_softness(double factor);
    void set_box(double net_volume, double filling);
    /// The centre of the box on the floor; `inward` looks away from the nearest wall.
    void set_place(double x, double y, Facing facing);

    LiveAnswer answer();
    /// Spread by where the box stands, on a grid of at most `step` [m].
    FloorMap spread_map(double step) const;

  private:
    Wall softened(const Wall& wall) const;
    Point between_walls(const Enclosure& box) const;

    Scenario scenario_;
    Driver driver_;
    PreparedRoom room_;
    std::array<Wall, 6> wall_;  ///< before `softness_`
    double softness_ = 1;
    double x_ = 0, y_ = 0;
};

}  // namespace boxroom
