#include "tuning/day_choice.hpp"

#include <algorithm>
#include <cmath>

#include "placement/listening.hpp"
#include "placement/planning.hpp"
#include "tuning/standing_set.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {
namespace {

constexpr std::size_t sets_of_a_day = 10;

/// A set as it is heard on the day that is worse for it.
struct Heard {
    RankedSet set;
    Listening there;
    std::size_t worse = 0;
};

/// The sets of this number that either day found best, on their worse days, best first.
std::vector<Heard> heard_on_both(const std::vector<Scenario>& states, const Driver& driver,
                                 const std::vector<FoundOnDay>& found, int subs) {
    struct Both {
        const RankedSet* set;
        std::size_t day;            ///< that it was found on
        std::vector<Listening> on;  ///< by day
    };
    std::vector<Both> all;
    double loudest = -HUGE_VAL;
    for (std::size_t d = 0; d < found.size(); ++d)
        for (const SubsOption& option : found[d].subs.options) {
            if (option.subs() != subs) continue;
            const auto& sets = option.ranking.sets;
            for (std::size_t s = 0; s < std::min(sets.size(), sets_of_a_day); ++s) {
                Both both{&sets[s], d, {}};
                const auto placed =
                    subs_of(standing_set(states[0], sets[s], option.ranking.box_volume));
                for (const Scenario& state : states) {
                    both.on.push_back(listen(state, driver, found[d].first, placed));
                    loudest = std::max(loudest, both.on.back().criteria.level_db);
                }
                all.push_back(std::move(both));
            }
        }
    std::vector<Heard> out;
    for (Both& both : all) {
        Heard heard{*both.set, {}, 0};
        const auto value = [&](std::size_t day) {
            return score(both.on[day].criteria, loudest, states[day].judgement.weights);
        };
        heard.worse = value(1) > value(0) ? 1 : 0;
        const double ringing = heard.set.criteria.ringing_s;
        heard.set.criteria = both.on[heard.worse].criteria;
        heard.set.criteria.score = value(heard.worse);
        heard.set.criteria.ringing_s = ringing;
        if (both.day != heard.worse) heard.set.robustness = {};  // draws of the other day
        heard.there = std::move(both.on[heard.worse]);
        out.push_back(std::move(heard));
    }
    std::ranges::stable_sort(out, {}, [](const Heard& h) { return h.set.criteria.score; });
    std::vector<Heard> kept;  // what both days found stands once
    for (Heard& heard : out)
        if (std::ranges::none_of(
                kept, [&](const Heard& k) { return k.set.positions == heard.set.positions; }))
            kept.push_back(std::move(heard));
    return kept;
}

/// One number of subs with the sets of both days; the best of them heard in full.
SubsOption merged(const SubsOption& option, const std::vector<Scenario>& states,
                  std::vector<Heard>& sets) {
    const Target& target = states[0].judgement.target;
    const Judge judge(states[0].acoustics.frequency, states[0].seats, target);
    SubsOption out = option;
    out.ranking.sets.clear(), out.ranking.front.clear();
    out.ranking.choice = 0, out.ranking.tie = -1;
    out.ranking.reason = "By what each set does on its worse day, with the doors open or shut.";
    for (Heard& heard : sets) {
        heard.set.rank = static_cast<int>(out.ranking.sets.size()) + 1;
        if (heard.set.equalised)
            heard.set.after =
                equalised_criteria(states[heard.worse], heard.there, heard.set.equaliser);
        out.ranking.sets.push_back(heard.set);
    }
    put_heard(judge, target, std::move(sets.front().there), out);
    return out;
}

}  // namespace

FoundOnDay find_on(const Scenario& scenario, const Driver& driver, const DecisionAsk& ask,
                   const std::optional<ClosedBox>& first, Timings& timings) {
    const auto tell = [&](const std::string& phase, double share) {
        if (ask.tell) ask.tell(phase, share);
    };
    tell("solving the room and judging boxes and spots", 0.1);
    FoundOnDay found{make_plan(scenario, driver, timings), {}, {}};
    const Plan& plan = found.plan;
    found.first =
        first.value_or(closed_box(driver, plan.boxes[plan.build].volume, scenario.design.filling));
    std::vector<double> volumes;
    for (const BoxOption& option : plan.boxes)
        if (option.fits) volumes.push_back(option.volume);
    Scenario drawn = scenario;
    drawn.judgement.uncertainty.draws =
        std::min(scenario.judgement.uncertainty.draws, ask.most_draws);
    found.subs = make_subs_plan(
        drawn, driver, found.first, ask.counts, volumes, timings, ask.all_must_fit,
        [&](const std::string& phase, double share) { tell(phase, 0.3 + 0.5 * share); },
        ask.drawn_sets);
    return found;
}

FoundOnDay by_worse_day(const std::vector<Scenario>& states, const Driver& driver,
                        std::vector<FoundOnDay> found) {
    SubsPlan subs;
    std::vector<std::size_t> worse_of_option;
    for (const SubsOption& option : found[0].subs.options) {
        std::vector<Heard> sets = heard_on_both(states, driver, found, option.subs());
        subs.options.push_back(merged(option, states, sets));
        worse_of_option.push_back(sets.front().worse);
    }
    subs.front = common_front(subs.options);
    advise_number(subs, states[0].judgement.target);
    const std::size_t counts = worse_of_option[static_cast<std::size_t>(subs.advice)];
    return {std::move(found[counts].plan), std::move(subs), found[counts].first};
}

}  // namespace boxroom
