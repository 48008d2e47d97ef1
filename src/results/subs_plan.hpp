#pragma once
#include <string>
#include <vector>

#include "results/listening.hpp"
#include "results/sets.hpp"

namespace boxroom {

/// How loud a set plays, equalised to the target, and what ends it.
struct Loudest {
    double level_db = 0;  ///< of the target curve at the band's middle [dB SPL]
    double at_hz = 0;
    std::string limited_by;  ///< empty where the limits are unknown
    bool known() const { return !limited_by.empty(); }
};

/// What one number of subs gives.
struct SubsOption {
    SetRanking ranking;
    Listening heard;                   ///< the chosen set, settings included, not equalised
    std::vector<double> equaliser_db;  ///< (F) gain of its filters
    std::vector<double> equalised_db;  ///< (F) seat average with them
    Loudest loudest;
    double smallest_volume =
        0;  ///< smallest box of the sweep that is loud enough there [m3]; 0 none
    int subs() const { return ranking.subs; }
    const RankedSet& chosen() const {
        return ranking.sets[static_cast<std::size_t>(ranking.choice)];
    }
};

/// A set that no other beats in spread, unevenness, level and number of boxes.
struct TradeOff {
    int subs = 0;
    RankedSet set;
    bool chosen = false;  ///< its number's robust choice
};

/// Numbers of subs against each other.
struct SubsPlan {
    std::vector<SubsOption> options;  ///< by rising number
    std::vector<TradeOff> front;      ///< by number, then by spread
    int advice = 0;                   ///< row of `options`
    std::string how_many;             ///< what each further box buys, in one sentence
};

}  // namespace boxroom
