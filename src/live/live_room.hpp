#pragma once
#include <array>
#include <span>
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
    Sides outer;
    Point footprint;
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
    /// A part of the wall is this instead, `area` of it [m2]; the wall as set last is the rest.
    /// Throws Error as mean_wall does.
    void set_part(int wall, const Wall& part, double area);
    /// Every wall gives way by this factor more: all branches divided by it.
    void set_softness(double factor);
    void set_box(double net_volume, double filling);
    /// The centre of the box on the floor, moved so that the box stays between the walls; `inward`
    /// looks away from the nearest wall. A box of another size keeps its share of the way from wall
    /// to wall, as in SpotGrid, so that what stands in a corner stays there.
    void set_place(double x, double y, Facing facing);

    LiveAnswer answer();
    /// decay_words of the room as it is.
    std::vector<std::string> decay() const;
    /// The balance of the boxes with these Qtc at this place: in the room, then in half space. Z is
    /// solved for a few sizes of box and interpolated (SizeNodes). Throws Error for a Qtc at
    /// or below the driver's Qts.
    std::array<std::vector<double>, 2> balance_by_qtc(std::span<const double> qtc);
    /// Spread by where the box stands, on a grid of at most `step` [m].
    FloorMap spread_map(double step) const;

  private:
    Wall softened(const Wall& wall) const;
    Facing facing() const;  ///< never `inward`
    Sides outer() const;    ///< as it stands, turned
    Point footprint(const Sides& box) const;
    Point centre(const Sides& box, Facing facing) const;
    std::vector<Point> seat_places() const;

    Scenario scenario_;
    Driver driver_;
    PreparedRoom room_;
    std::array<Wall, 6> wall_;  ///< before `softness_`
    double softness_ = 1;
    double share_x_ = 0.5, share_y_ = 0.5;
};

}  // namespace boxroom
