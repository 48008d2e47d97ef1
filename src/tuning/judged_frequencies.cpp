#include "tuning/judged_frequencies.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

JudgedFrequencies::JudgedFrequencies(const Scenario& scenario)
    : nominal_(scenario.acoustics.frequency), band_(scenario.judgement.target.band) {
    if (scenario.acoustics.resolved && scenario.acoustics.room.is_rectangle())
        grids_.emplace(scenario.acoustics.room, scenario.acoustics.air,
                       Band{nominal_.front(), std::min(nominal_.back(), 1.6 * band_.high)}, band_);
}

std::vector<double> JudgedFrequencies::of(const Room& drawn) const {
    std::vector<double> frequency;
    for (const double f : grids_ ? grids_->of(drawn) : nominal_) {
        const bool below = f < band_.low / std::sqrt(2.1);
        if (below && !frequency.empty() && f < frequency.back() * std::exp2(0.99 / 24)) continue;
        frequency.push_back(f);
        if (f > 1.5 * band_.high) break;
    }
    return frequency;
}

}  // namespace boxroom
