#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"
#include "results/floor_map.hpp"
#include "woofer/enclosure.hpp"

namespace boxroom {

/// Whether a box, turned the way it faces, with its centre at `at` stands within the walls and the
/// height limit, off the keep-outs and clear of the seats.
bool box_fits(const Scenario& scenario, const Point& at, const Sides& box);

/// The centre on the floor of a box, turned as it stands, that is these shares of the way from the
/// left to the right and from the front to the back wall: 0 and 1 are one [spots] gap off the
/// walls.
Point between_walls(double share_x, double share_y, const Sides& standing,
                    const Scenario& scenario);

/// A regular grid of places for a box, from wall to wall: column i, row j. The first and last stand
/// one gap off the walls whatever the size of the box, so the grid stretches a little with the box
/// and a spot keeps its meaning ("in the corner") across sizes. Boxes are given as built, the
/// driver's panel width x height; each spot turns them so that the driver faces its way.
class SpotGrid {
  public:
    /// The spacing is the largest not above rules.step for the box `smallest`.
    /// Throws Error if not even that box has room.
    SpotGrid(const Scenario& scenario, const Sides& smallest);

    int nx() const { return nx_; }
    int ny() const { return ny_; }
    int size() const { return nx_ * ny_; }
    Point footprint(int spot, const Sides& box) const;       ///< centre on the floor
    Point centre(int spot, const Sides& box) const;          ///< acoustic centre
    Facing facing(int spot) const { return facing_[spot]; }  ///< resolved, never `inward`
    bool fits(int spot, const Sides& box) const {
        return box_fits(scenario_, footprint(spot, box), turned(box, facing_[spot]));
    }

  private:
    const Scenario& scenario_;
    int nx_ = 0, ny_ = 0;
    std::vector<Facing> facing_;
};

/// A map with one value a spot for a box of this size: where it lies, what stands in the room, no
/// values yet.
FloorMap blank_spot_map(const Scenario& scenario, const SpotGrid& grid, const Sides& box);

/// Where the driver of a box with its centre there looks: the file's word, `inward` resolved as
/// away from the nearest wall.
Facing facing_at(const Scenario& scenario, const Point& footprint);
/// Where a box with its centre at `at` looks if it is told `wanted`; never `inward`.
Facing resolved_facing(Facing wanted, const Point& at, const Room& room);

}  // namespace boxroom
