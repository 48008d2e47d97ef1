#pragma once
#include "placement/scenario.hpp"
#include "woofer/closed_box.hpp"

namespace boxroom {

inline constexpr double usual_memory = 2e9;  ///< [bytes] what a command takes unless it may more

/// What is looked for on the floor.
enum class FloorSearch {
    one_box,   ///< every spot with one box
    boxes,     ///< every spot with every box of a sweep
    many_subs  ///< spots for several boxes that stand together
};

/// What a search over the whole floor keeps at once, worked out before anything is solved.
struct FloorNeed {
    double spots = 0;  ///< where the box may stand, about
    double bytes = 0;
};

/// For each spot the fields at all seats and frequencies (in single precision, for the four sizes
/// of SizeNodes where there are several boxes, five times over where sets are searched), and for
/// sets one byte for every pair of spots (SetRules::clash). How much of the floor is free is
/// counted on a coarse grid. Measured in the demo room at 3 to 10 cm, the largest process was
/// within a tenth of it. Throws Error if the box does not fit between the walls.
FloorNeed floor_need(const Scenario& scenario, const ClosedBox& smallest, FloorSearch search);

/// Throws Error with the numbers and a step that would do where more than `most_bytes` are needed.
void require_memory_for_floor(const Scenario& scenario, const ClosedBox& smallest,
                              FloorSearch search, double most_bytes);

/// Throws Error with the numbers where the fields of all placed subs at all seats and frequencies
/// need more than `most_bytes`: four times, for they are solved, kept and turned into levels.
void require_memory_for_listening(const Scenario& scenario, double most_bytes = usual_memory);

}  // namespace boxroom
