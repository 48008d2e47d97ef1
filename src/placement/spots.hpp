#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"
#include "woofer/enclosure.hpp"

namespace boxroom {

/// A regular grid of places for a box, from wall to wall: column i, row j. The first and last stand
/// one gap off the walls whatever the size of the box, so the grid stretches a little with the box
/// and a spot keeps its meaning ("in the corner") across sizes.
class SpotGrid {
  public:
    /// The spacing is the largest not above rules.step for the box `smallest`.
    /// Throws Error if not even that box has room.
    SpotGrid(const Scenario& scenario, const Enclosure& smallest);

    int nx() const { return nx_; }
    int ny() const { return ny_; }
    int size() const { return nx_ * ny_; }
    Point footprint(int spot, const Enclosure& box) const;   ///< centre on the floor
    Point centre(int spot, const Enclosure& box) const;      ///< acoustic centre
    Facing facing(int spot) const { return facing_[spot]; }  ///< resolved, never `inward`
    /// Within the walls and height limit, off keep-outs, clear of the seats.
    bool fits(int spot, const Enclosure& box) const;

  private:
    const Scenario& scenario_;
    int nx_ = 0, ny_ = 0;
    std::vector<Facing> facing_;
};

std::string facing_name(Facing facing);
/// Where the driver of a box with its centre there looks: the file's word, `inward` resolved as
/// away from the nearest wall.
Facing facing_at(const Scenario& scenario, const Point& footprint);

}  // namespace boxroom
