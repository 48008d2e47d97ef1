#pragma once
#include <functional>
#include <optional>

#include "base/units.hpp"
#include "results/decision.hpp"
#include "tuning/standing_set.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {

/// What a decision is asked for.
struct DecisionAsk {
    std::vector<int> counts{1, 2};  ///< numbers of boxes to look at, rising
    bool all_must_fit = false;      ///< an Error where one does not; else it is left out
    /// Of how many draws, and of how many sets a number, the doubt is known: few are enough to
    /// decide, more tell near ties apart.
    int most_draws = 50, drawn_sets = 3;
    /// Where one box would stay, with its cone: there it is recommended unless the best place
    /// scores better by the target's indifference or more. Nearer than `one_place` [m] is there.
    std::optional<Point> stay = {};
    double one_place = 0;
    WrittenUnit length{"m"}, volume{"L", 1e-3};  ///< in which units the room file writes them
    std::function<void(const std::string&, double)> tell = {};
};

/// The one decision and what it rests on.
struct Decided {
    Plan plan;      ///< boxes and spots; its choices, responses and maps are the decision's
    SubsPlan subs;  ///< what each number of boxes gives
    Decision decision;
};

/// Decides how many boxes, which, where, what is dialled in and what the equaliser does.
///
/// 1. Boxes x spots for one box (make_plan), which gives the box to begin with. 2. With that box
/// the sets of each number, their settings and equaliser, and the draws (make_subs_plan): a
/// further box must be worth it. 3. At the places of the advised set the boxes once more, by the
/// rule of box_to_build. 4. Rounded to what a room file says; only then heard, equalised and driven
/// to its limits. Where an opening is `either`, 1 and 2 are done on both kinds of day; the ten best
/// sets of each day are judged by their worse day, and that day's numbers count
/// (tuning/day_choice). Throws Error where nothing fits.
Decided decide(const Scenario& scenario, const Driver& driver, const DecisionAsk& ask,
               Timings& timings);

/// Steps 3 and 4 of it without what is heard: the box by the rule at the places of `set`, whose
/// `power` is (F,S) for each unit of flow, and the set as a room file says it. Fills the plan's
/// boxes and choices.
StandingSet settle_boxes(const Scenario& scenario, const Driver& driver, StandingSet set,
                         const ByFrequency<double>& power, const DecisionAsk& ask, Plan& plan);

/// Criteria of a response behind these filters (every sub alike).
Criteria equalised_criteria(const Scenario& scenario, const Listening& heard,
                            std::span<const EqFilter> filters);

}  // namespace boxroom
