#pragma once
#include <string>
#include <vector>

#include "base/frequency_grid.hpp"
#include "base/sides.hpp"
#include "results/criteria.hpp"
#include "results/floor_map.hpp"
#include "results/listening.hpp"
#include "results/solver_agreement.hpp"

namespace boxroom {

struct RankedSpot {
    int rank = 0;
    std::vector<Point> positions;  ///< acoustic centres, one a sub
    Point footprint;               ///< centre of the (first) box on the floor
    Facing facing = Facing::back;  ///< where the driver looks; never `inward`
    Criteria criteria;
};

struct Ranking {
    double box_volume = 0, qtc = 0;  ///< net [m3]
    Sides outer;
    std::vector<RankedSpot> spots;  ///< best first
    FloorMap spread_map, score_map;
    std::string reason;  ///< one sentence: what the best spot has over the rest
};

/// One box of the sweep.
struct BoxOption {
    double qtc = 0, volume = 0, fc = 0, f3 = 0;
    Sides outer = {};
    double half_space_balance_db = 0;
    double in_room_balance_db = 0;  ///< at the chosen spot
    bool fits = true;               ///< at the chosen spot
    bool buildable = true;          ///< takes the driver, and is neither too large nor too heavy
    /// Highest target curve it plays at the chosen spot, equalised, down to target.down_to, dB SPL
    /// at the band's middle; where and why no more. limited_by empty where unknown.
    double loudest_db = 0, limited_at_hz = 0;
    std::string limited_by = {};
    double watts = 0;   ///< of each amplifier, for the level asked or the chosen box's; 0 unknown
    double weight = 0;  ///< finished, about [kg]; 0 unknown
};

/// The same rule on another band: the smallest box within target.indifference of the best balance.
struct BandFinding {
    Band band;
    double half_space_qtc = 0, half_space_volume = 0;  ///< [m3]
    double in_room_qtc = 0, in_room_volume = 0;
};

struct Plan {
    std::vector<BoxOption> boxes;                                        ///< by rising Qtc
    int half_space_best = 0, in_room_best = 0, textbook = 0, build = 0;  ///< indices into boxes
    /// By one rule, box_by_balance(): on the endless floor and in the room; -1 where no box is
    /// allowed.
    int half_space_build = 0, in_room_build = 0;
    std::vector<BandFinding> by_band;   ///< the file's band first
    std::string decided_by;             ///< "room", "band", "rule" or "driver"
    RankedSpot spot;                    ///< the chosen place (for the box to build)
    std::vector<RankedSpot> spots;      ///< every spot with the box that suits it best
    std::vector<BoxOption> spot_boxes;  ///< that box, parallel to spots
    Listening at_build, at_textbook;    ///< responses at the chosen spot
    std::vector<FloorMap> maps;
    int smallest_for_level = -1;  ///< smallest box that reaches target.level; -1 none, or not asked
    SolverAgreement agreement;    ///< of two solvers at the box to build; unknown if not asked
};

}  // namespace boxroom
