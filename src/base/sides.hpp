#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/point.hpp"

namespace boxroom {

/// Sides of a box [m]. As built, the driver sits in a width x height panel, or, lying in the top or
/// bottom (facing up or down), in a width x depth panel. As it stands (turned()), width runs along
/// x and depth along y.
struct Sides {
    double width = 0, depth = 0, height = 0;
    friend bool operator==(const Sides&, const Sides&) = default;
};

/// The wall the driver looks at, or up, or down; `inward`: away from the wall nearest to the box.
enum class Facing { inward, left, right, front, back, up, down };

inline constexpr Facing all_facings[] = {Facing::inward, Facing::left, Facing::right, Facing::front,
                                         Facing::back,   Facing::up,   Facing::down};

std::string facing_name(Facing facing);  ///< "left", as in files
std::optional<Facing> facing_named(std::string_view name);
/// "the left wall", or "up": where a driver looks, in a sentence.
std::string facing_words(Facing facing);

/// Whether the driver lies in the top or the bottom.
constexpr bool lies(Facing facing) {
    return facing == Facing::up || facing == Facing::down;
}

/// Unit vector along which the driver looks; `inward`, which has none, as `back`.
Point direction(Facing facing);

/// Along the room's axes: a driver that looks to the left or right wall turns the box by a quarter.
Sides turned(const Sides& box, Facing facing);

}  // namespace boxroom
