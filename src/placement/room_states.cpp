#include "placement/room_states.hpp"

#include <algorithm>
#include <cmath>

#include "placement/listening.hpp"

namespace boxroom {

std::vector<Scenario> states_of(const Scenario& scenario) {
    std::vector<Scenario> states{scenario};
    if (std::ranges::none_of(scenario.acoustics.room.plan.openings, &Opening::either))
        return states;
    Scenario shut = scenario;
    std::erase_if(shut.acoustics.room.plan.openings, [](const Opening& o) { return o.either; });
    keep_joined(shut.acoustics.room.plan);
    states.push_back(std::move(shut));
    return states;
}

const char* state_name(std::size_t state) {
    return state == 0 ? "open" : "shut";
}

DayStates day_states(const std::vector<Scenario>& states, const Driver& driver,
                     const ClosedBox& box, const std::vector<PlacedSub>& subs) {
    DayStates out;
    if (states.size() < 2) return out;
    for (const Opening& o : states[0].acoustics.room.plan.openings)
        if (o.either) out.openings.push_back(o.name);
    double loudest = -HUGE_VAL;
    for (const Scenario& state : states) {
        out.criteria.push_back(listen(state, driver, box, subs).criteria);
        loudest = std::max(loudest, out.criteria.back().level_db);
    }
    const auto value = [&](std::size_t s) {
        return score(out.criteria[s], loudest, states[s].judgement.weights);
    };
    for (std::size_t s = 1; s < states.size(); ++s)
        if (value(s) > value(out.worse)) out.worse = s;
    return out;
}

}  // namespace boxroom
