#include "app/room_days.hpp"

#include "placement/room_states.hpp"

namespace boxroom {

DayStates take_worse_day(Session& session, const ClosedBox& box) {
    const auto& subs = session.scenario.placed.subs;
    if (subs.empty()) return {};
    std::vector<Scenario> states = states_of(session.scenario);
    DayStates days = day_states(states, session.driver, box, subs);
    if (!days.criteria.empty()) session.scenario = std::move(states[days.worse]);
    return days;
}

void warn_of_open_days(Session& session) {
    for (const Opening& opening : session.scenario.acoustics.room.plan.openings)
        if (opening.either)
            session.warnings.push_back("[[opening]] \"" + opening.name +
                                       "\" counts as open here; plan and listen judge it shut too");
}

}  // namespace boxroom
