#pragma once
#include <array>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "live/room_fields.hpp"
#include "placement/listening.hpp"
#include "placement/spots.hpp"
#include "placement/standing.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// What one arrangement of box, seats and walls gives.
struct LiveAnswer {
    Listening at_seats;
    std::vector<double> spread;         ///< across the seats, by frequency [dB]
    ClosedBox box;                      ///< each of them
    std::vector<BoxStanding> standing;  ///< one a sub; its cone is the sub's place
    std::vector<char> fits;             ///< off the keep-outs, clear of seats and other boxes
    bool draft = false;                 ///< the room was not learnt as it is
};

/// Boxes of one kind in a room whose parts are moved about: the same answers as `listen` and
/// `rank`, and nothing worked out again that the last change has not touched.
class LiveRoom {
  public:
    /// The box of the scenario where it has one, its subs (one where it has none), each with its
    /// centre where the scenario has its cone until set_place() says better.
    /// Throws Error as complete_driver and closed_box do.
    explicit LiveRoom(const Scenario& scenario);

    const Scenario& scenario() const { return scenario_; }
    /// Kept inside the room, in its air.
    void set_seat(int seat, const Point& at);
    /// One of room_surfaces().
    void set_wall(int surface, const Wall& material);
    const Wall& wall(int surface) const;  ///< as it is now
    /// A part of it is this instead, `area` of it [m2]; the surface as set last is the rest.
    /// Throws Error as mean_wall does.
    void set_part(int surface, const Wall& part, double area);
    /// Every one of them gives way by this factor more (softened).
    void set_softness(double factor);
    void set_box(double net_volume, double filling);
    /// The centre of a sub's box on the floor, moved so that the box stays between the walls and in
    /// the air of a room that is no rectangle;
    /// `inward` looks away from the nearest wall. A box of another size keeps its share of the way
    /// from wall to wall, as in SpotGrid, so that what stands in a corner stays there.
    void set_place(int sub, double x, double y, Facing facing);
    void set_dial(int sub, const Dial& dial);

    /// See RoomFields: whether the room with its seats, as they are, was learnt, learning them, and
    /// handing what was learnt from one engine to another.
    bool learnt() const { return fields_->learnt(places_of(scenario_.seats)); }
    void learn(const std::function<void(double)>& progress);
    std::string_view kept() const { return fields_->kept(); }
    bool take(const std::string& kept);

    LiveAnswer answer();
    /// decay_words of the room as it is.
    std::vector<std::string> decay() const;
    /// The balance of the boxes with these Qtc at these places: in the room, then of one in half
    /// space. Z is solved for a few sizes of box and interpolated (SizeNodes). Throws Error for a
    /// Qtc at or below the driver's Qts.
    std::array<std::vector<double>, 2> balance_by_qtc(std::span<const double> qtc);
    /// Spread by where this sub stands while the others stay, on a grid of at most `step` [m].
    FloorMap spread_map(int sub, double step) const;

  private:
    /// How a sub is placed, whatever the size of its box.
    struct Place {
        double share_x = 0.5, share_y = 0.5;
        Facing wanted = Facing::inward;
        Dial dial = {};
    };
    Facing facing(const Place& place) const;  ///< never `inward`
    BoxStanding standing(const Place& place, const Sides& as_built, Facing looks) const;
    BoxStanding standing(const Place& place) const;
    /// What the subs other than this one give at the seats for U = 1 of each before its dial:
    /// (F, S), for the frequencies of `scenario`.
    ByFrequency<std::complex<double>> pressure_of_others(int sub, const Scenario& scenario) const;

    Scenario scenario_;
    Driver driver_;
    std::unique_ptr<RoomFields> fields_;
    std::vector<RoomSurface> surfaces_;
    std::vector<Wall> wall_;  ///< of each, before `softness_`
    double softness_ = 1;
    std::vector<Place> place_;
};

}  // namespace boxroom
