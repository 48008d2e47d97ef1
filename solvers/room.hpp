#pragma once
#include <array>
#include <string>

#include "base/air.hpp"
#include "base/point.hpp"
#include "solvers/contents.hpp"
#include "solvers/room_plan.hpp"
#include "solvers/wall.hpp"

namespace boxroom {

/// Order of the six walls everywhere: left/right are x = 0/width, front/back y = 0/length,
/// floor/ceiling z = 0/height.
enum WallIndex { left_wall, right_wall, front_wall, back_wall, floor_wall, ceiling_wall };
inline constexpr std::array<const char*, 6> wall_names{"left", "right", "front",
                                                       "back", "floor", "ceiling"};

/// A rectangular room with six uniform walls, or one with any plan.
struct Room {
    double width = 0, length = 0, height = 0;  ///< x, y, z [m]
    std::array<Wall, 6> walls;
    std::array<std::string, 6> wall_description;  ///< as the file says it
    RoomPlan plan{};      ///< width and length are those of the rectangle around its outline
    Contents contents{};  ///< of the room alone, not of the spaces next door
    bool is_rectangle() const { return plan.empty(); }
    /// A rectangle, but perhaps with openings: with them shut it has formulas.
    bool has_rectangle_floor() const { return plan.outline.empty() && plan.blocks.empty(); }
    double volume() const;  ///< of the air, without the spaces next door [m3]
    /// Inside the walls or on them, and in no block.
    bool contains(const Point& p) const {
        return p.x >= 0 && p.y >= 0 && p.z >= 0 && p.x <= width && p.y <= length && p.z <= height &&
               (plan.empty() || (plan.covers(p.x, p.y) && !plan.block_at(p)));
    }
    /// Every surface with its name: the walls, or the edges of the plan; floor, ceiling; blocks;
    /// those of the spaces.
    std::vector<NamedWall> surfaces() const;
};

/// Whether a source or a receiver may be there: in the room or on a wall of it, in no block and not
/// between a block and the wall that it stands against.
bool in_air(const Room& room, const Point& p);

}  // namespace boxroom
