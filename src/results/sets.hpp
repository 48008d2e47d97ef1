#pragma once
#include <string>
#include <vector>

#include "base/dial.hpp"
#include "base/point.hpp"
#include "base/sides.hpp"
#include "results/criteria.hpp"

namespace boxroom {

/// One filter of the equaliser that all subs share; tuning/biquad.hpp has the formulas.
struct EqFilter {
    enum class Kind { peaking, low_shelf, high_shelf } kind = Kind::peaking;
    double frequency = 0;  ///< [Hz]
    double gain_db = 0;
    double q = 1;
};

/// What uncertain inputs make of a set (tuning/robustness.hpp).
struct Robustness {
    bool known = false;
    double share_of_wins = 0;  ///< of the draws in which this set had the best score of those tried
    Criteria low, middle, high;          ///< each criterion: 10, 50 and 90 % of the draws lie below
    std::vector<double> spread_of_draw;  ///< [dB]; draw n has the same inputs for every set
};

/// Boxes standing together, with their settings.
struct RankedSet {
    int rank = 0;
    std::vector<Point> positions;   ///< acoustic centres, one a sub
    std::vector<Point> footprints;  ///< centres of the boxes on the floor
    std::vector<Facing> facings;    ///< never `inward`
    std::vector<double> volumes;    ///< net, a box each, where [search] volumes mixes them [m3]
    std::vector<Dial> settings;
    Criteria criteria;  ///< with these settings, before equalisation
    Criteria plain;     ///< all alike: 0 dB, 0 ms, +
    bool equalised = false;
    std::vector<EqFilter> equaliser;
    Criteria after;  ///< with settings and equaliser; where `equalised`
    Robustness robustness;
};

/// The sets of one number of subs, best first.
struct SetRanking {
    int subs = 0;
    double box_volume = 0, qtc = 0;  ///< net [m3]
    Sides outer;
    std::vector<RankedSet> sets;
    std::vector<RankedSet> front;  ///< not beaten in spread, unevenness and level by a visible step
    bool proven = false;           ///< every set was looked at
    std::string method;            ///< how they were found, in words
    int choice = 0;                ///< row of the robust choice: first, unless draws say otherwise
    int tie = -1;                  ///< row of the set that is as good as the choice; -1 none
    std::string reason;            ///< how sure the choice is
};

}  // namespace boxroom
