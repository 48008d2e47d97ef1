#pragma once
#include <optional>
#include <vector>

#include "tuning/deciding.hpp"

namespace boxroom {

/// What is found on one kind of day.
struct FoundOnDay {
    Plan plan;
    SubsPlan subs;
    ClosedBox first;  ///< to begin with
    const SubsOption& advised() const {
        return subs.options[static_cast<std::size_t>(subs.advice)];
    }
};

/// Boxes x spots, then sets of each number: of the box to begin with, unless that is given.
FoundOnDay find_on(const Scenario& scenario, const Driver& driver, const DecisionAsk& ask,
                   const std::optional<ClosedBox>& first, Timings& timings);

/// What was found on both kinds of day as one: the sets of each number from both, each with what it
/// does on its worse day and in that order (ten of each day are looked at), the number advised by
/// these, and boxes x spots of the day that counts for the advised set. `found` as states_of() has
/// the days, all of one box.
FoundOnDay by_worse_day(const std::vector<Scenario>& states, const Driver& driver,
                        std::vector<FoundOnDay> found);

}  // namespace boxroom
