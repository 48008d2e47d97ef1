#pragma once
#include <memory>

#include "placement/planning.hpp"
#include "placement/set_search.hpp"
#include "results/sets.hpp"
#include "tuning/equaliser.hpp"

namespace boxroom {

struct SetFloor;
class RingingModes;

/// Ranks sets of boxes of one size on one floor: the room is solved once for any number of subs.
class SetRanker {
  public:
    /// Throws Error where no box fits.
    SetRanker(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
              Timings& timings);
    ~SetRanker();

    /// Sets of `subs` boxes, best first: searched with all subs alike (placement/set_search), then
    /// each of the best given its own settings and a shared equaliser, and ordered by what they are
    /// worth with these settings. Of sets nearer than 0.3 m to a better one only the better is
    /// listed. Throws Error where so many boxes do not fit.
    SetRanking rank(int subs);
    /// The best set alone, for those who look at many rooms: of the `tuned` sets that the search
    /// likes best, the one that scores best with settings of its own; with equaliser and ringing,
    /// rank 1. The same as the first of rank() wherever that is among them; `options` may ask less
    /// of the search.
    RankedSet best(int subs, int tuned = 12, const SetSearchOptions& options = {});
    /// The response of a set out of such a ranking, settings included; what `listen` gives for its
    /// subs.
    Listening listen(const RankedSet& set) const;

  private:
    struct Ground;
    SetSearch search(int subs, const SetSearchOptions& options);
    /// The first of what the search likes best, each different from the others.
    std::vector<RankedSet> best_different(int subs, int most, SetSearchOptions options);
    const RingingModes& ringing();
    std::unique_ptr<SetFloor> floor_;
    std::unique_ptr<Ground> ground_;  ///< both made when they are first asked for
    std::unique_ptr<RingingModes> ringing_;
    Timings& timings_;
};

/// One number of subs alone.
SetRanking rank_sets(const Scenario& scenario, const Driver& driver, const ClosedBox& box, int subs,
                     Timings& timings);

/// A set as subs placed by hand.
std::vector<PlacedSub> placed(const RankedSet& set);

}  // namespace boxroom
