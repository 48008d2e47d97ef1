#include "answers/room_days.hpp"

#include "placement/room_states.hpp"

namespace boxroom {

DayStates take_worse_day(Inquiry& inquiry, const ClosedBox& box) {
    const auto& subs = inquiry.scenario.placed.subs;
    if (subs.empty()) return {};
    std::vector<Scenario> states = states_of(inquiry.scenario);
    DayStates days = day_states(states, inquiry.driver, box, subs);
    if (!days.criteria.empty()) inquiry.scenario = std::move(states[days.worse]);
    return days;
}

void warn_of_open_days(Inquiry& inquiry) {
    for (const Opening& opening : inquiry.scenario.acoustics.room.plan.openings)
        if (opening.either)
            inquiry.warnings.push_back("[[opening]] \"" + opening.name +
                                       "\" counts as open here; plan and listen judge it shut too");
}

}  // namespace boxroom
