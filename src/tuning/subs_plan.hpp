#pragma once
#include <functional>

#include "results/subs_plan.hpp"
#include "tuning/set_ranking.hpp"

namespace boxroom {

/// The highest target curve that a set plays from `from` Hz to the band's end before the sub that
/// is turned up most meets a limit: equalised, nulls not filled (Judge::highest_target). The same
/// measure as BoxOption::loudest_db.
Loudest loudest_equalised(const Judge& judge, const Listening& heard, double from);

/// Puts into the option what is heard of its chosen set, what the set's equaliser makes of that, and
/// how loud it plays.
void put_heard(const Judge& judge, const Target& target, Listening heard, SubsOption& option);

/// What each number of `box` buys. For every count the sets are ranked, the first `drawn_sets`
/// drawn with uncertain inputs, and the robust choice is heard, equalised and driven to its limits.
/// A further box is advised where it lowers the spread by target.indifference or more, or where
/// only it reaches target.level. `volumes`: the net volumes among which the smallest box for that
/// level is sought, at the same places and settings [m3]. `tell` hears what is being done. Throws
/// Error where so many do not fit, if all must; else those numbers are left out (never the first).
SubsPlan make_subs_plan(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                        const std::vector<int>& counts, const std::vector<double>& volumes,
                        Timings& timings, bool all_must_fit = true,
                        const std::function<void(const std::string&, double)>& tell = {},
                        int drawn_sets = 10);

/// The sets of all fronts together that nothing beats: a set is beaten by one of no more boxes that
/// is no worse in spread, unevenness and level. Of sets that do the same to within a visible step
/// (0.2 dB, 0.2 dB, 1 dB) one is shown: the robust choice, the one of fewer boxes, the better
/// score.
std::vector<TradeOff> common_front(const std::vector<SubsOption>& options);

/// Fills `advice` and `how_many` from the options.
void advise_number(SubsPlan& plan, const Target& target);

}  // namespace boxroom
