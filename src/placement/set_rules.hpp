#pragma once
#include <span>

#include "placement/set_search.hpp"
#include "placement/spots.hpp"

namespace boxroom {

/// A box on the floor: the middle of its footprint, and its sides as it stands.
struct Standing {
    Point at;
    Sides sides;
};

/// What clashes and which cell each is in, for boxes of any kinds; no symmetry is made use of.
SetRules rules_of_boxes(const Scenario& scenario, const std::vector<Standing>& boxes);

/// Boxes clash where their footprints, turned as they face, overlap. In a rectangle a wall pair of
/// the same make, seats and free spots that mirror into each other make the room symmetric about
/// that axis: then every set has a mirror image that sounds the same, and `first` keeps one spot of
/// each mirrored pair (or four).
/// Cells are about 0.3 m wide. `spots`: the grid's numbers of those a box fits on.
SetRules make_set_rules(const Scenario& scenario, const SpotGrid& grid, const Sides& box,
                        std::span<const int> spots);

}  // namespace boxroom
