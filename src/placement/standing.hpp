#pragma once
#include "placement/scenario.hpp"

namespace boxroom {

/// A box that stands in the room: its centre on the floor, the middle of its cone, how it is
/// turned.
struct BoxStanding {
    Point footprint, cone;
    Facing facing = Facing::back;
    Sides sides;  ///< as it stands: width along x, depth along y
};

/// The box of this net volume whose centre on the floor is there; `facing` may be `inward`.
BoxStanding standing_at(const Scenario& scenario, const Point& footprint, Facing facing,
                        double volume);

/// The box of a sub: as the file says, or, of the ways the driver may look, the one that standing
/// the box there would give.
BoxStanding standing_of(const Scenario& scenario, const PlacedSub& sub, const BoxPlace& place,
                        double volume);

/// How the file places its n-th sub.
BoxPlace place_of(const Scenario& scenario, std::size_t n);
/// The file's n-th sub in its own box, or in one of this net volume.
BoxStanding standing_in_file(const Scenario& scenario, std::size_t n, double volume);

/// Where a box that stands at `from` stands when it has another volume and keeps its gaps to the
/// walls.
BoxStanding resized(const Scenario& scenario, const BoxStanding& from, double volume);

/// Whether it stands within the rules for spots, and clear of `others`.
bool may_stand(const Scenario& scenario, const BoxStanding& box,
               const std::vector<BoxStanding>& others);

}  // namespace boxroom
