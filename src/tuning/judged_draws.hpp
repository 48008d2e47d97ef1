#pragma once
#include <functional>
#include <set>
#include <vector>

#include "placement/planning.hpp"
#include "results/sets.hpp"
#include "tuning/judged_frequencies.hpp"

namespace boxroom {

/// Sets with the settings they have, judged in draws of everything that may be wrong
/// (tuning/draws): in each draw all of them stand in the same room. The draws of a rectangle are
/// solved exactly, those of any other room by elements (tuning/drawn_rooms).
class JudgedDraws {
  public:
    /// `progress` hears now and then, on any thread but one at a time, the share of the draws that
    /// is done and the seconds left. Keeps references to the scenario and the sets.
    JudgedDraws(const Scenario& scenario, double box_volume, std::vector<const RankedSet*> sets,
                const std::function<void(double, double)>& progress);

    std::size_t draws() const { return criteria_.size(); }
    const Criteria& of(std::size_t draw, std::size_t set) const { return criteria_[draw][set]; }
    /// One criterion of a set in every draw.
    std::vector<double> all(std::size_t set, double Criteria::*member) const;
    /// What this share of the draws lies below, between neighbours in proportion. The largest
    /// difference of two seats is as large as a null is deep, which the single precision of a
    /// rectangle's draws moves by 1e-4 dB and more: the draws that its percentile lies between are
    /// solved there in double precision. Of different sets on different threads, if need be.
    double percentile(std::size_t set, double Criteria::*member, double share);

  private:
    const Scenario& scenario_;
    double box_volume_;
    std::vector<const RankedSet*> sets_;
    JudgedFrequencies frequencies_;
    std::vector<std::vector<Criteria>> criteria_;  ///< [draw][set]
    std::vector<std::set<std::size_t>> exact_;     ///< draws of each set that are settled
};

}  // namespace boxroom
