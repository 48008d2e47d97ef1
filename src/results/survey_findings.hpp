#pragma once
#include <array>
#include <string>
#include <vector>

namespace boxroom {

/// How a number is spread over rooms.
struct Quantiles {
    double low = 0, middle = 0, high = 0;  ///< 10, 50 and 90 % of the rooms lie below
    long long rooms = 0;                   ///< of how many it is known
};

/// In which share of rooms something holds.
struct Share {
    double share = 0;
    long long rooms = 0;       ///< of how many it is known
    double low = 0, high = 0;  ///< what chance leaves open, 95 %
};

/// Rooms that are built alike, or of a like size.
struct BoxFindings {
    std::string house;                   ///< empty: all
    std::string size;                    ///< "under 40 m3"; empty: all
    Quantiles best_qtc, half_space_qtc;  ///< of the flattest balance
    /// By one rule: the smallest box within 0.5 dB of the flattest, in the room and on the endless
    /// floor.
    Quantiles build_qtc, half_space_build_qtc;
    Share textbook_good;  ///< Qtc 0.707 is within 0.5 dB of the best balance in the room
};

/// Subs of one number.
struct SubsFindings {
    int subs = 0;
    Quantiles spread, unevenness, equalised_unevenness;
    Quantiles gain;          ///< of spread over one sub fewer [dB]
    Share gain_is_heard;     ///< ... in 0.5 dB or more
    Share in_corners;        ///< of all these subs; chance as if a room's stood all alike
    Share at_middles;        ///< ... at the middle of a wall
    Share opposite_middles;  ///< two of them at the middles of opposite walls
};

/// The share of rooms in which a number is at most x, for each x.
struct Cumulative {
    std::string name;
    std::vector<double> share;  ///< 0 to 1
};

struct SurveyFindings {
    long long rooms = 0, planned = 0;
    BoxFindings all;
    std::vector<BoxFindings> groups;  ///< by house, then by size, then both
    std::vector<double> qtc;          ///< x of the curves that follow
    /// All, on an endless floor, by house: the flattest box, and the one by the rule.
    std::vector<Cumulative> best_qtc, build_qtc;
    Share smaller_in_room;    ///< the rule's box is smaller in the room than on the endless floor
    Quantiles volume_ratio;   ///< the rule's volume in the room over that of Qtc 0.707
    Quantiles textbook_loss;  ///< balance with Qtc 0.707 less the best [dB]
    Share largest_good, smallest_good;  ///< that box of the sweep is within 0.5 dB of the best
    /// Behind an equaliser balance (and unevenness) with the largest, the textbook's and the
    /// smallest box differ by less than 0.5 dB.
    Share size_does_not_matter, size_moves_no_unevenness;
    Quantiles size_before, size_after;  ///< that difference of balance, without and with one [dB]
    Share corner_wins;                  ///< the single sub's best place is a corner
    Quantiles corner_loss;              ///< score of the best corner less the best of all
    std::array<SubsFindings, 4> subs;
    std::vector<double> spread_db;                      ///< x of the curves that follow
    std::vector<Cumulative> spreads;                    ///< one to four subs
    Quantiles two_middles, four_middles, four_corners;  ///< spread of the quoted places [dB]
};

}  // namespace boxroom
