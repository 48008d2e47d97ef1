#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "solvers/wall.hpp"

namespace boxroom {

/// Where a construction's number was found: in rooms, below 100 Hz, or in a table that stops at
/// 125 Hz and is carried further down.
enum class AbsorptionKnown { measured_below_100_hz, tabled_at_125_hz };

/// A wall one can point at, with where its numbers come from.
struct Construction {
    std::string name;          ///< as written in the room file: "brick, plastered"
    double absorption = 0;     ///< > 0: resistive wall with this random-incidence coefficient
    Branch branch;             ///< used where absorption == 0
    std::string source;        ///< of the numbers
    std::string extrapolated;  ///< what was carried below 125 Hz, in words; empty if nothing
    AbsorptionKnown known = AbsorptionKnown::tabled_at_125_hz;
    /// Its doubt as random-incidence coefficients: the spread between the tables, or a factor of
    /// two either way where only one value is known.
    double low = 0, high = 0;
};

const std::vector<Construction>& constructions();
/// Throws Error naming the nearest known construction.
const Construction& find_construction(std::string_view name);
/// Whether a wall described like this rests on a name: it is one, or a list of parts with one.
bool rests_on_a_name(std::string_view description);
Wall wall_from_construction(const Construction& construction, const Air& air);

}  // namespace boxroom
