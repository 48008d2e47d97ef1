#pragma once
#include <string>
#include <vector>

#include "base/by_frequency.hpp"
#include "base/dial.hpp"
#include "results/criteria.hpp"

namespace boxroom {

/// How well two sources that play together agree: 0 dB in phase everywhere.
struct Agreement {
    Dial subs;  ///< besides what is set, all alike; a delay below zero is one of the mains
    double loss_db = 0;
};

/// Subs and main loudspeakers together at the seats, through the crossover. F frequencies, S seats.
struct Crossing {
    bool filtered = false;  ///< with a crossover; else everything plays full range
    std::string type;       ///< "linkwitz-riley" ...
    int order = 0;
    double frequency = 0;  ///< [Hz]
    std::vector<std::string> mains;
    std::vector<double> grid;                       ///< (F) [Hz]
    std::vector<double> subs_db, mains_db, sum_db;  ///< (F) seat averages; mains may be empty
    ByFrequency<double> level_db;                   ///< (F,S) of the sum
    Criteria criteria;                              ///< of the sum
    bool judged = false;                            ///< the two below mean something
    Agreement as_set, best;
    std::string advice;  ///< in words
};

}  // namespace boxroom
