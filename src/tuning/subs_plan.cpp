#include "tuning/subs_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"
#include "tuning/biquad.hpp"
#include "tuning/robustness.hpp"

namespace boxroom {
namespace {

/// Mean-square pressures of levels re 20 uPa.
std::vector<double> power_of(const std::vector<double>& level_db) {
    std::vector<double> power;
    for (const double level : level_db) power.push_back(mean_square_of_level(level));
    return power;
}

double lowest_wanted(const Target& target) {
    return target.down_to.value_or(target.band.low);
}

/// The smallest box that reaches the wanted level with the set's places and settings, equalised to
/// the target; 0 where none does.
double smallest_for_level(const Judge& judge, const Scenario& scenario, const Driver& driver,
                          const ClosedBox& box, const SubsOption& option,
                          std::vector<double> volumes) {
    const Target& target = scenario.judgement.target;
    if (!target.level || !option.loudest.known() || !scenario.wanted.set_volumes.empty()) return 0;
    const auto& f = scenario.acoustics.frequency;
    const auto here =
        drive_ceiling(driver, box, scenario.design.amplifier, f, scenario.acoustics.air);
    std::ranges::sort(volumes);
    for (const double volume : volumes) {
        const auto other =
            drive_ceiling(driver, closed_box(driver, volume, scenario.design.filling),
                          scenario.design.amplifier, f, scenario.acoustics.air);
        std::vector<double> power = power_of(option.heard.max_level_db);
        for (std::size_t n = 0; n < f.size(); ++n) {
            const double ratio = other.volume_velocity[n] / here.volume_velocity[n];
            power[n] *= ratio * ratio;
        }
        if (judge.highest_target(power, lowest_wanted(target)).level_db >= *target.level)
            return volume;
    }
    return 0;
}

/// Whether `a` does what `b` does, to within a visible step (0.2 dB, 0.2 dB, 1 dB), with no more
/// boxes.
bool covers(const TradeOff& a, const TradeOff& b) {
    const Criteria &x = a.set.criteria, &y = b.set.criteria;
    return a.subs <= b.subs && x.spread_db <= y.spread_db + 0.2 &&
           x.unevenness_db <= y.unevenness_db + 0.2 && x.level_db >= y.level_db - 1;
}

bool beats(const TradeOff& a, const TradeOff& b) {
    const Criteria &x = a.set.criteria, &y = b.set.criteria;
    return a.subs <= b.subs && x.spread_db <= y.spread_db && x.unevenness_db <= y.unevenness_db &&
           x.level_db >= y.level_db &&
           (a.subs < b.subs || x.spread_db < y.spread_db || x.unevenness_db < y.unevenness_db ||
            x.level_db > y.level_db);
}

}  // namespace

Loudest loudest_equalised(const Judge& judge, const Listening& heard, double from) {
    if (heard.max_level_db.empty()) return {};
    const Judge::Touch touch = judge.highest_target(power_of(heard.max_level_db), from);
    const auto n = static_cast<std::size_t>(touch.index);
    return {touch.level_db, heard.frequency[n], heard.limited_by[n]};
}

void put_heard(const Judge& judge, const Target& target, Listening heard, SubsOption& option) {
    option.heard = std::move(heard);
    option.equaliser_db = equaliser_db(option.chosen().equaliser, option.heard.frequency);
    option.equalised_db = raised(option.heard.seat_average_db, option.equaliser_db);
    option.loudest = loudest_equalised(judge, option.heard, lowest_wanted(target));
}

std::vector<TradeOff> common_front(const std::vector<SubsOption>& options) {
    std::vector<TradeOff> all, front;
    for (const SubsOption& option : options) {
        all.push_back({option.subs(), option.chosen(), true});
        for (const RankedSet& set : option.ranking.front)
            if (set.positions != option.chosen().positions)
                all.push_back({option.subs(), set, false});
    }
    std::ranges::stable_sort(all, [](const TradeOff& a, const TradeOff& b) {
        if (a.subs != b.subs) return a.subs < b.subs;
        return a.chosen != b.chosen ? a.chosen : a.set.criteria.score < b.set.criteria.score;
    });
    for (const TradeOff& one : all)
        if (std::ranges::none_of(all, [&](const TradeOff& o) { return beats(o, one); }) &&
            std::ranges::none_of(front, [&](const TradeOff& o) { return covers(o, one); }))
            front.push_back(one);
    std::ranges::stable_sort(front, [](const TradeOff& a, const TradeOff& b) {
        return a.subs != b.subs ? a.subs < b.subs
                                : a.set.criteria.spread_db < b.set.criteria.spread_db;
    });
    return front;
}

SubsPlan make_subs_plan(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                        const std::vector<int>& counts, const std::vector<double>& volumes,
                        Timings& timings, bool all_must_fit,
                        const std::function<void(const std::string&, double)>& tell,
                        int drawn_sets) {
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    SetRanker ranker(scenario, driver, box, timings);
    SubsPlan plan;
    std::vector<SetRanking*> rankings;
    for (const int subs : counts) {
        if (tell)
            tell(std::to_string(subs) + (subs > 1 ? " boxes" : " box") + ": searching and setting",
                 0.7 * static_cast<double>(plan.options.size()) / counts.size());
        try {
            SetRanking ranking = ranker.rank(subs);
            plan.options.emplace_back().ranking = std::move(ranking);
        } catch (const Error&) {
            if (all_must_fit || plan.options.empty()) throw;
        }
    }
    for (SubsOption& option : plan.options) rankings.push_back(&option.ranking);
    if (tell) tell("drawing uncertain inputs", 0.7);
    judge_robustness(
        scenario, box.volume, rankings, drawn_sets, timings, [&](double share, double left) {
            if (tell)
                tell("drawing uncertain inputs, " + number(left, 0) + " s left", 0.7 + 0.3 * share);
        });
    for (SubsOption& option : plan.options) {
        put_heard(judge, scenario.judgement.target, ranker.listen(option.chosen()), option);
        option.smallest_volume = smallest_for_level(judge, scenario, driver, box, option, volumes);
    }
    plan.front = common_front(plan.options);
    advise_number(plan, scenario.judgement.target);
    return plan;
}

}  // namespace boxroom
