#pragma once
#include <span>
#include <vector>

#include "base/point.hpp"

namespace boxroom {

/// How modal_transfer_many takes the sources of a floor together. One axis, c, is solved in closed
/// form; along the other two, a and b, what is the same for several sources is worked out once.
/// What the processor's vectors run over begins and ends at multiples of 8.
struct FloorLayout {
    /// All sources with one coordinate along c, and their coordinates along b.
    struct Height {
        double at;
        int first_b, columns;  ///< in `on_b`
    };
    /// Sources with the same c and b, side by side along a.
    struct Group {
        int height, column;  ///< `column` of that height's
        int first_a;         ///< in `on_a`: where its sources' coordinates stand one after another
        int slot, slots;
    };

    /// Sources one after another whose results stand one after another too.
    struct Run {
        int slot, count;
    };

    int a = 0, b = 1, c = 2;         ///< axes
    double distance = 0;             ///< along c, of the closest source and receiver [m]
    std::vector<double> on_a, on_b;  ///< where mode functions are wanted [m]; multiples of 16
    std::vector<Height> heights;
    std::vector<Group> groups;  ///< by height
    std::vector<int> slot;      ///< of each source: where its results are worked out
    std::vector<Run> runs;      ///< `slot` of all sources, in their order
    int slots = 0;
    /// The sources share too little: there are no groups, and every slot has a coordinate of its
    /// own in `on_a` and in `on_b`.
    bool scattered = false;
};

/// The layout with c the axis along which the closest pair is furthest apart (usually the height).
FloorLayout lay_out_floor(std::span<const Point> sources, std::span<const Point> receivers);

}  // namespace boxroom
