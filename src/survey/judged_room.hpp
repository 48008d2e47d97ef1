#pragma once
#include <array>
#include <limits>
#include <vector>

#include "placement/scenario.hpp"
#include "results/criteria.hpp"

namespace boxroom {

inline constexpr double not_known = std::numeric_limits<double>::quiet_NaN();

/// One box of the sweep at the place of the single sub.
struct BoxFound {
    double qtc = not_known, volume = not_known;  ///< net [m3]
    double balance_db = not_known;               ///< as it is
    /// What an equaliser of its own leaves of it; not for all.
    double equalised_balance_db = not_known, equalised_unevenness_db = not_known;
};

/// Subs of one number, each with settings of its own, and where they stand.
struct SetFound {
    bool known = false;  ///< so many were asked for and fit
    Criteria criteria, equalised;
    std::vector<Point> places;      ///< centres of the boxes on the floor
    int in_corners = 0;             ///< how many stand in a corner
    int at_middles = 0;             ///< in the middle of a wall
    bool opposite_middles = false;  ///< two in the middles of two opposite walls
};

/// What a survey keeps of a room: `plan`'s own numbers for one sub, and the best sets.
struct JudgedRoom {
    bool planned = false;  ///< a box fits somewhere; the rest is not known where none does
    double absorption_50_hz = not_known;  ///< mean over all surfaces, random incidence
    BoxFound best, build, textbook, largest, smallest;  ///< in the room
    BoxFound half_space_best, half_space_build;         ///< chosen on paper, heard in the room
    std::array<SetFound, 4> sets;                       ///< of one to four subs
    /// Score of the best spot in a corner less that of the best of all; not known without corners.
    double corner_loss = not_known;
    /// Spread of the quoted arrangements, subs alike: two in the middles of opposite walls (the
    /// better pair of walls), four in all middles, four in the corners.
    double two_middles_spread_db = not_known, four_middles_spread_db = not_known,
           four_corners_spread_db = not_known;
};

/// Plans the room as `plan` does, without draws, alternatives and pictures: boxes x spots for one
/// sub, the box by the rule where that stands, then the best set of each of these numbers (the
/// first of them is 1).
JudgedRoom judge_room(const Scenario& scenario, const std::vector<int>& counts);

}  // namespace boxroom
