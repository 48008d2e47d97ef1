#pragma once
#include <array>
#include <cstddef>

#include "results/criteria.hpp"

namespace boxroom {

/// Where a criterion is shown.
enum class Shown {
    everywhere,  ///< tables for people, and whatever a program reads
    in_files,    ///< only what a program reads
    in_rankings  ///< only where places are compared with each other
};

/// One of the numbers a response is judged by, as every output names and rounds it.
struct Criterion {
    const char* name;  ///< of its HDF5 dataset
    const char* key;   ///< in JSON and CSV
    const char* label;
    const char* unit;
    int decimals;  ///< on screen and paper; further ones are false
    bool low_is_good;
    Shown shown;
    double Criteria::*member;
    const char* description;
};

/// All of them, in the order of every output. Terminal, CSV, HDF5, JSON, report, window and live
/// page are loops over this table: a further criterion is a field of Criteria, its formula in
/// placement/criteria, a row here, and a test.
inline constexpr std::array criterion_table{
    Criterion{"spread", "spread_db", "spread", "dB", 1, true, Shown::everywhere,
              &Criteria::spread_db, "seat-to-seat spread, mean over the target band"},
    Criterion{"largest_difference", "largest_difference_db", "largest difference", "dB", 1, true,
              Shown::in_files, &Criteria::largest_difference_db,
              "largest level difference between two seats in the target band"},
    Criterion{"unevenness", "unevenness_db", "unevenness", "dB", 1, true, Shown::everywhere,
              &Criteria::unevenness_db,
              "RMS deviation of the 1/12-octave seat average from the target"},
    Criterion{"balance", "balance_db", "balance", "dB", 1, true, Shown::everywhere,
              &Criteria::balance_db,
              "RMS deviation of the one-octave seat average from the target"},
    Criterion{"level", "level_db", "level", "dB", 1, false, Shown::everywhere, &Criteria::level_db,
              "mean of the seat average over the target band"},
    Criterion{"reach", "reach_hz", "reach", "Hz", 0, true, Shown::everywhere, &Criteria::reach_hz,
              "where the octave-smoothed seat average falls 6 dB under its mean, going down from the "
              "band's middle"},
    Criterion{"ringing", "ringing_s", "ringing", "s", 1, true, Shown::in_rankings,
              &Criteria::ringing_s,
              "longest decay beyond listeners' threshold at a seat, less the quieter it is"},
    Criterion{"score", "score", "score", "1", 1, true, Shown::in_rankings, &Criteria::score,
              "weighted sum of the parts; lower is better"}};

/// The row of one member.
constexpr const Criterion& criterion(double Criteria::*member) {
    std::size_t row = 0;
    while (criterion_table[row].member != member) ++row;
    return criterion_table[row];
}

/// Whether a table for people shows it: in a ranking, or beside a response that stands alone.
constexpr bool on_pages(const Criterion& criterion, bool ranking) {
    return criterion.shown == Shown::everywhere ||
           (ranking && criterion.shown == Shown::in_rankings);
}

}  // namespace boxroom
