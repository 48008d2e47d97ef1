#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "solvers/wall.hpp"

namespace boxroom {

/// A wall one can point at, with where its numbers come from.
struct Construction {
    std::string name;          ///< as written in the room file: "brick, plastered"
    double absorption = 0;     ///< > 0: resistive wall with this random-incidence coefficient
    Branch branch;             ///< used where absorption == 0
    std::string source;        ///< of the numbers
    std::string extrapolated;  ///< what was carried below 125 Hz, in words; empty if nothing
};

const std::vector<Construction>& constructions();
/// Throws Error naming the nearest known construction.
const Construction& find_construction(std::string_view name);
Wall wall_from_construction(const Construction& construction, const Air& air);

}  // namespace boxroom
