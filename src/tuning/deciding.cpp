#include "tuning/deciding.hpp"

#include <algorithm>
#include <cmath>

#include "base/number.hpp"
#include "placement/box_verdict.hpp"
#include "placement/plane_map.hpp"
#include "placement/pressure.hpp"
#include "placement/room_states.hpp"
#include "placement/standing.hpp"
#include "tuning/biquad.hpp"
#include "tuning/day_choice.hpp"
#include "tuning/equaliser.hpp"
#include "tuning/robustness.hpp"
#include "tuning/standing_set.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// The balance of boxes of other sizes with their cones where these then are: a larger box brings
/// its cone further into the room. Not on a grid of another plan: another cone is another run.
void follow_cones(const Scenario& scenario, const Driver& driver, const StandingSet& set,
                  Plan& plan) {
    const bool on_grid = scenario.acoustics.solver.solver == RoomSolver::grid;
    if (set.mixed || (on_grid && !scenario.acoustics.room.is_rectangle())) return;
    std::vector<std::size_t> options;
    const std::vector<Point> seats = places_of(scenario.seats);
    std::vector<Point> cones;
    for (std::size_t b = 0; b < plan.boxes.size(); ++b) {
        StandingSet there = set;
        if (!resize(scenario, plan.boxes[b].volume, there)) continue;
        options.push_back(b);
        for (const BoxStanding& box : there.boxes) cones.push_back(box.cone);
    }
    const auto& frequency = scenario.acoustics.frequency;
    const auto z = room_transfer_many(scenario.acoustics.room, scenario.acoustics.air, frequency,
                                      cones, seats, scenario.acoustics.solver);
    const std::size_t subs = set.boxes.size();
    const auto dials = dial_factors(frequency, set.dials);
    for (std::size_t n = 0; n < options.size(); ++n) {
        ByFrequency<double> power(frequency.size(), seats.size());
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (std::size_t s = 0; s < seats.size(); ++s) {
                Complex sum = 0;
                for (std::size_t k = 0; k < subs; ++k)
                    sum += Complex(z.at(f, s, n * subs + k)) * dials(f, k);
                power(f, s) = std::norm(sum);
            }
        BoxOption& box = plan.boxes[options[n]];
        box.in_room_balance_db = balance_there(scenario, driver, power, box);
    }
}

/// What every box of the sweep is worth at the set's places, and which to build there.
void judge_boxes_there(const Scenario& scenario, const Driver& driver, const StandingSet& set,
                       const ByFrequency<double>& power, Plan& plan) {
    for (BoxOption& box : plan.boxes) {
        StandingSet there = set;
        box.fits = box.buildable && (set.mixed || resize(scenario, box.volume, there));
    }
    plan.boxes[plan.build].fits = true;  // it stands there
    find_balances(scenario, driver, power, plan);
    follow_cones(scenario, driver, set, plan);
    find_loudest(scenario, driver, power, plan);
    choose_boxes(scenario, plan);
}

/// Puts the box as it is written in the place of the sweep's.
void put_written(const Scenario& scenario, const Driver& driver, const DecidedSub& sub,
                 BoxOption& option) {
    const ClosedBox box = closed_box(driver, sub.volume, scenario.design.filling);
    option.volume = box.volume, option.qtc = box.qtc, option.fc = box.fc, option.f3 = box.f3();
    option.outer = sub.outer;
}

}  // namespace

// A third digit of the volume may move a box over the rule's edge: then the rule has the last word.
StandingSet settle_boxes(const Scenario& scenario, const Driver& driver, StandingSet set,
                         const ByFrequency<double>& power, const DecisionAsk& ask, Plan& plan) {
    judge_boxes_there(scenario, driver, set, power, plan);
    int build = plan.build;
    for (int round = 0; round < 3; ++round) {
        build = plan.build;
        if (!set.mixed) resize(scenario, plan.boxes[build].volume, set);
        set = as_in_file(scenario, set, ask.length, ask.volume);
        if (set.mixed) break;
        put_written(scenario, driver, decided_subs(scenario, driver, set).front(),
                    plan.boxes[build]);
        judge_boxes_there(scenario, driver, set, power, plan);
        if (plan.build == build) break;
    }
    plan.build = build;
    return set;
}

namespace {

/// Responses, curves and limits of a set, in full.
void hear(const Scenario& scenario, const Driver& driver, const StandingSet& set,
          Decision& decision) {
    const auto subs = subs_of(set);
    const Target& target = scenario.judgement.target;
    const ClosedBox box = closed_box(driver, set.volumes.front(), scenario.design.filling);
    decision.heard = listen(scenario, driver, box, subs);
    const Judge judge(scenario.acoustics.frequency, scenario.seats, target);
    const auto power =
        squared(pressure_at(decision.heard.transfer_impedance, decision.heard.volume_velocity));
    decision.equaliser = scenario.design.equaliser_available == false
                             ? std::vector<EqFilter>{}
                             : equalise(judge, judge.seat_average(power));
    decision.equaliser_db = equaliser_db(decision.equaliser, scenario.acoustics.frequency);
    decision.equalised = equalised_criteria(scenario, decision.heard, decision.equaliser);
    decision.equalised_db = raised(decision.heard.seat_average_db, decision.equaliser_db);
    decision.loudest =
        loudest_equalised(judge, decision.heard, target.down_to.value_or(target.band.low));
}

/// The decision's curves beside those of the textbook's box.
void hear_textbook(const Scenario& scenario, const Driver& driver, const StandingSet& set,
                   const Listening& heard, Plan& plan) {
    plan.at_build = heard;
    std::vector<PlacedSub> textbook = heard.subs;
    for (PlacedSub& sub : textbook) sub.volume = plan.boxes[plan.textbook].volume;
    StandingSet there = set;
    if (resize(scenario, plan.boxes[plan.textbook].volume, there)) textbook = subs_of(there);
    const ClosedBox box = closed_box(driver, set.volumes.front(), scenario.design.filling);
    plan.at_textbook = listen(scenario, driver, box, textbook);
}

void draw_maps(const Scenario& scenario, const Driver& driver, Plan& plan) {
    for (FloorMap& map : plan.maps) map.subs = plan.at_build.subs;
    Scenario placed = scenario;
    placed.placed.subs = plan.at_build.subs;
    const ClosedBox box =
        closed_box(driver, plan.at_build.subs.front().volume, scenario.design.filling);
    for (FloorMap& map : listening_plane_maps(placed, driver, box))
        plan.maps.push_back(std::move(map));
}

/// Which row of the spots is the decision's: the one nearest to its first box, 0 where none is.
int row_of(const Plan& plan, const Point& footprint) {
    int row = 0;
    double nearest = 0.15;
    for (const RankedSpot& spot : plan.spots) {
        const double off =
            std::hypot(spot.footprint.x - footprint.x, spot.footprint.y - footprint.y);
        if (off < nearest) nearest = off, row = spot.rank;
    }
    return row;
}

std::string difference(double now, double there, const char* more, const char* less) {
    const double by = there - now;
    if (std::abs(by) < 0.05) return "";
    return number(std::abs(by), 1) + " dB " + (by > 0 ? more : less);
}

/// What an alternative costs or brings, beside the decision.
std::string cost_of(const Decision& decision, const Alternative& other, bool several_seats) {
    std::string text;
    const auto add = [&](const std::string& part) {
        if (!part.empty()) text += (text.empty() ? "" : ", ") + part;
    };
    const Criteria &now = decision.heard.criteria, &there = other.criteria;
    if (several_seats)
        add(difference(now.spread_db, there.spread_db, "more spread", "less spread"));
    add(difference(now.unevenness_db, there.unevenness_db, "less even", "more even"));
    if (decision.loudest.known() && other.loudest.known())
        add(difference(decision.loudest.level_db, other.loudest.level_db, "louder", "less loud"));
    else
        add(difference(now.level_db, there.level_db, "louder", "less loud"));
    return text.empty() ? "no difference that one could hear" : text;
}

std::string boxes(std::size_t count) {
    static const char* const words[] = {"", "one box", "two boxes", "three boxes", "four boxes"};
    return words[count];
}

/// In the box that the rule gives it at its places, rounded and heard as the decision is.
Alternative alternative(const Scenario& scenario, const Driver& driver, const SubsOption& option,
                        const RankedSet& set, const std::string& what, const DecisionAsk& ask,
                        Plan plan, const Decision& decision) {
    Alternative out;
    out.what = what;
    StandingSet there = standing_set(scenario, set, option.ranking.box_volume);
    there = settle_boxes(scenario, driver, there, per_flow(scenario, there), ask, plan);
    Decision other;
    hear(scenario, driver, there, other);
    out.subs = decided_subs(scenario, driver, there);
    out.criteria = other.heard.criteria, out.equalised = other.equalised;
    out.criteria.score = set.criteria.score, out.criteria.ringing_s = set.criteria.ringing_s;
    out.loudest = other.loudest;
    out.cost = cost_of(decision, out, scenario.seats.size() > 1);
    return out;
}

/// The advised set of its number is what was decided, as it is written.
void put_decision(const StandingSet& set, const Decision& decision, SubsPlan& plan) {
    SubsOption& option = plan.options[static_cast<std::size_t>(plan.advice)];
    RankedSet& chosen = option.ranking.sets[static_cast<std::size_t>(option.ranking.choice)];
    const double score = chosen.criteria.score, ringing = chosen.criteria.ringing_s;
    for (std::size_t k = 0; k < set.boxes.size(); ++k) {
        chosen.positions[k] = set.boxes[k].cone, chosen.footprints[k] = set.boxes[k].footprint;
        chosen.settings[k] = set.dials[k];
        if (set.mixed) chosen.volumes[k] = set.volumes[k];
    }
    chosen.criteria = decision.heard.criteria, chosen.after = decision.equalised;
    chosen.criteria.score = score, chosen.criteria.ringing_s = ringing;
    chosen.equaliser = decision.equaliser;
    option.heard = decision.heard, option.loudest = decision.loudest;
    option.equaliser_db = decision.equaliser_db, option.equalised_db = decision.equalised_db;
    plan.front = common_front(plan.options);
}

/// Another number of boxes, and the best set of the same number that stands elsewhere.
void add_alternatives(const Scenario& scenario, const Driver& driver, const DecisionAsk& ask,
                      const Decided& decided, Decision& decision) {
    const SubsPlan& plan = decided.subs;
    const auto advice = static_cast<std::size_t>(plan.advice);
    const SubsOption& advised = plan.options[advice];
    const auto add = [&](const SubsOption& option, const RankedSet& set, const std::string& what) {
        if (decision.alternatives.size() < 2)
            decision.alternatives.push_back(
                alternative(scenario, driver, option, set, what, ask, decided.plan, decision));
    };
    if (advice + 1 < plan.options.size())
        add(plan.options[advice + 1], plan.options[advice + 1].chosen(),
            boxes(plan.options[advice + 1].chosen().positions.size()));
    else if (advice > 0)
        add(plan.options[advice - 1], plan.options[advice - 1].chosen(),
            boxes(plan.options[advice - 1].chosen().positions.size()));
    for (const RankedSet& set : advised.ranking.sets) {
        if (&set == &advised.chosen()) continue;
        add(advised, set, set.positions.size() > 1 ? "other places" : "another place");
    }
}

/// Lets one box stay where it is as good as the best, in the nearest place of the list.
void let_stay(const DecisionAsk& ask, double indifference, SubsPlan& plan) {
    SetRanking& ranking = plan.options[static_cast<std::size_t>(plan.advice)].ranking;
    if (!ask.stay || ranking.subs != 1) return;
    const double enough =
        ranking.sets[static_cast<std::size_t>(ranking.choice)].criteria.score + indifference;
    double nearest = ask.one_place;
    for (std::size_t n = 0; n < ranking.sets.size(); ++n) {
        const Point& at = ranking.sets[n].positions.front();
        const double off = std::hypot(at.x - ask.stay->x, at.y - ask.stay->y);
        if (off <= nearest && ranking.sets[n].criteria.score < enough)
            nearest = off, ranking.choice = static_cast<int>(n);
    }
}

}  // namespace

Criteria equalised_criteria(const Scenario& scenario, const Listening& heard,
                            std::span<const EqFilter> filters) {
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const auto power = equalised(
        judge, squared(pressure_at(heard.transfer_impedance, heard.volume_velocity)), filters);
    Criteria out;
    judge.judge_seats(power, out);
    judge.judge_average(judge.seat_average(power), out);
    return out;
}

Decided decide(const Scenario& scenario, const Driver& driver, const DecisionAsk& ask,
               Timings& timings) {
    // 1. Boxes x spots; 2. numbers of the box to begin with; on every day that the room knows.
    const std::vector<Scenario> states = states_of(scenario);
    FoundOnDay found = find_on(states[0], driver, ask, {}, timings);
    const ClosedBox first = found.first;
    if (states.size() > 1) {
        FoundOnDay shut = find_on(states[1], driver, ask, first, timings);
        found = by_worse_day(states, driver, {std::move(found), std::move(shut)});
    }
    const double start = seconds_now();
    Decided out{std::move(found.plan), std::move(found.subs), {}};
    Plan& plan = out.plan;
    Decision& decision = out.decision;

    let_stay(ask, scenario.judgement.target.indifference, out.subs);

    // 3. The boxes once more, where the advised set stands, in the room that counts.
    const SubsOption& advised = out.subs.options[static_cast<std::size_t>(out.subs.advice)];
    StandingSet set = standing_set(scenario, advised.chosen(), first.volume);
    const Scenario& judged = states[day_states(states, driver, first, subs_of(set)).worse];
    const auto power = per_flow(judged, set);

    // 4. As it is written; then heard.
    if (ask.tell) ask.tell("working out what was decided", 0.85);
    set = settle_boxes(judged, driver, set, power, ask, plan);
    decision.subs = decided_subs(scenario, driver, set);
    find_watts(judged, driver, power, plan);
    find_by_band(judged, driver, power, plan);
    const ClosedBox box = closed_box(driver, set.volumes.front(), scenario.design.filling);
    decision.states = day_states(states, driver, box, subs_of(set));
    const Scenario& counts = states[decision.states.worse];
    hear(counts, driver, set, decision);
    hear_textbook(counts, driver, set, decision.heard, plan);
    decision.watts = plan.boxes[plan.build].watts;
    decision.robustness = advised.chosen().robustness;
    plan.spot = {row_of(plan, decision.first().footprint),
                 {},
                 decision.first().footprint,
                 decision.first().facing,
                 decision.heard.criteria};
    for (const DecidedSub& sub : decision.subs) plan.spot.positions.push_back(sub.cone);
    put_decision(set, decision, out.subs);
    add_alternatives(counts, driver, ask, out, decision);
    draw_maps(counts, driver, plan);
    timings["solve"] += seconds_now() - start;
    return out;
}

}  // namespace boxroom
