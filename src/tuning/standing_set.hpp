#pragma once
#include <vector>

#include "base/by_frequency.hpp"
#include "base/units.hpp"
#include "placement/standing.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// The boxes of a set as they stand, and what each is.
struct StandingSet {
    std::vector<BoxStanding> boxes;
    std::vector<double> volumes;
    std::vector<Dial> dials;
    bool mixed = false;  ///< of [search] volumes: their sizes are chosen already
};

/// Of a ranked set, in boxes of this net volume unless it has volumes of its own.
StandingSet standing_set(const Scenario& scenario, const RankedSet& set, double volume);

/// "sub", or "sub 1", "sub 2" and so on.
std::vector<PlacedSub> subs_of(const StandingSet& set);
std::vector<DecidedSub> decided_subs(const Scenario& scenario, const Driver& driver,
                                     const StandingSet& set);

/// (F,S): |sum of Z d|^2, what the set does for each unit of flow.
ByFrequency<double> per_flow(const Scenario& scenario, const StandingSet& set);

/// Stands every box of the set in another size; false where one does not fit there.
bool resize(const Scenario& scenario, double volume, StandingSet& set);

/// As a room file says it that writes lengths and volumes in these units: places on whole steps
/// where the boxes may stand there, volumes and dials as they are read back.
StandingSet as_in_file(const Scenario& scenario, const StandingSet& set, const WrittenUnit& length,
                       const WrittenUnit& volume_unit);

}  // namespace boxroom
