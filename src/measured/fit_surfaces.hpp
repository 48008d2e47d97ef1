#pragma once
#include <string>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

/// A surface of the room that recordings may correct.
struct FitSurface {
    std::string path;  ///< of its line in the room file
    std::string name;  ///< for people
    std::string description;
    enum class Of { walls, edges, blocks } of;
    std::size_t index = 0;

    const Wall& in(const Room& room) const;
    Wall& in(Room& room) const;
};

/// The walls, or the edges of a floor plan with floor and ceiling; and what is built in. Those of
/// the spaces next door stay as the file has them: one hears little of them.
std::vector<FitSurface> fit_surfaces(const Scenario& scenario);

}  // namespace boxroom
