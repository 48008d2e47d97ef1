#pragma once
#include <string>
#include <vector>

#include "results/listening.hpp"
#include "results/sets.hpp"
#include "results/subs_plan.hpp"

namespace boxroom {

/// One box of the decision, as it is to be built, placed and dialled in.
struct DecidedSub {
    std::string name, driver;  ///< the driver's name in the file; empty where it has none
    double volume = 0;         ///< net [m3]
    double qtc = 0;
    Sides outer;      ///< as built
    Point footprint;  ///< centre of the box on the floor
    Point cone;       ///< middle of the cone
    Facing facing = Facing::back;
    Dial dial;
};

/// Another way to do it, and what it would cost or bring.
struct Alternative {
    std::string what;  ///< "two boxes", "another place": in a word or two
    std::vector<DecidedSub> subs;
    Criteria criteria, equalised;
    Loudest loudest;
    std::string cost;  ///< in one sentence
};

/// What the boxes do on the days a room knows: with its openings that are `either` open, and shut.
struct DayStates {
    std::vector<std::string> openings;  ///< the names of those
    std::vector<Criteria> criteria;  ///< open, shut; empty where the room has one state
    std::size_t worse = 0;           ///< which counts
};

/// What `plan` decides, once: everything that is shown, drawn, built and written comes from here.
/// Its numbers are worked out after it was rounded to what a room file says, so `listen` on
/// planned.toml gives the same.
struct Decision {
    std::vector<DecidedSub> subs;
    std::vector<EqFilter> equaliser;
    Listening heard;                   ///< without the equaliser
    std::vector<double> equaliser_db;  ///< (F)
    std::vector<double> equalised_db;  ///< (F) seat average with it
    Criteria equalised;
    Loudest loudest;   ///< equalised
    double watts = 0;  ///< of each amplifier for the level asked, else for `loudest`; 0 unknown
    Robustness robustness;  ///< of the set before it was rounded; unknown where nothing was drawn
    std::vector<Alternative> alternatives;  ///< at most two
    DayStates states;  ///< all the numbers above are those of the worse

    const DecidedSub& first() const { return subs.front(); }
};

}  // namespace boxroom
