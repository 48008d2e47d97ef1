#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

/// A surface of the room that may be made of something else: by whoever tries walls, or by
/// recordings that correct them.
struct RoomSurface {
    std::string path;  ///< of its line in the room file
    std::string name;  ///< as the file calls it
    std::string description;
    enum class Of { walls, edges, blocks } of;
    std::size_t index = 0;
    double area = 0;  ///< that its parts share [m2]; 0: it has none (see read_wall)

    const Wall& in(const Room& room) const;
    Wall& in(Room& room) const;
};

/// The walls, or the edges of a floor plan with floor and ceiling; and what is built in. Those of
/// the spaces next door stay as the file has them: one hears little of them.
std::vector<RoomSurface> room_surfaces(const Scenario& scenario);

}  // namespace boxroom
