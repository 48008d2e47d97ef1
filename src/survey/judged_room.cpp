#include "survey/judged_room.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "placement/listening.hpp"
#include "placement/planning.hpp"
#include "placement/pressure.hpp"
#include "survey/standing_places.hpp"
#include "tuning/deciding.hpp"
#include "tuning/equaliser.hpp"
#include "tuning/set_ranking.hpp"
#include "tuning/standing_set.hpp"

namespace boxroom {
namespace {

/// The single sub where it stands, with any box.
class OneSub {
  public:
    OneSub(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power)
        : scenario_(scenario),
          driver_(driver),
          judge_(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target),
          average_(judge_.seat_average(power)) {}

    BoxFound as_it_is(const BoxOption& box) const {
        return {box.qtc, box.volume, box.in_room_balance_db, not_known, not_known};
    }
    /// What the equaliser leaves of it, too.
    BoxFound equalised(const BoxOption& box) const {
        BoxFound out = as_it_is(box);
        const auto flow =
            volume_velocity(driver_, closed_box(driver_, box.volume, scenario_.design.filling),
                            scenario_.acoustics.frequency, scenario_.acoustics.air);
        std::vector<double> power = average_;
        for (std::size_t f = 0; f < power.size(); ++f) power[f] *= std::norm(flow[f]);
        Criteria after;
        judge_.judge_shape(
            boxroom::equalised(judge_, std::span<const double>(power), equalise(judge_, power)),
            after);
        out.equalised_balance_db = after.balance_db;
        out.equalised_unevenness_db = after.unevenness_db;
        return out;
    }

  private:
    const Scenario& scenario_;
    const Driver& driver_;
    Judge judge_;
    std::vector<double> average_;
};

void put_places(const Scenario& scenario, const std::vector<BoxStanding>& boxes, SetFound& set) {
    for (const BoxStanding& box : boxes) {
        set.places.push_back(box.footprint);
        set.in_corners += stands_in_corner(scenario, box);
        set.at_middles += wall_of_middle(scenario, box) >= 0;
    }
    set.opposite_middles = have_opposite_middles(scenario, boxes);
}

/// `plan`'s choices for one sub at its place.
void put_boxes(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
               const Plan& plan, JudgedRoom& out) {
    const OneSub sub(scenario, driver, power);
    const auto& boxes = plan.boxes;
    out.best = sub.as_it_is(boxes[plan.in_room_best]);
    out.build = sub.equalised(boxes[plan.build]);
    out.textbook = sub.equalised(boxes[plan.textbook]);
    out.half_space_best = sub.as_it_is(boxes[plan.half_space_best]);
    out.half_space_build = sub.as_it_is(boxes[plan.half_space_build]);
    out.largest = sub.equalised(boxes.front());
    out.smallest = sub.equalised(boxes.back());
}

/// One sub: the box and its place, settled as a decision is.
void judge_one(const Scenario& scenario, const Driver& driver, const RankedSet& best, double volume,
               Plan& plan, JudgedRoom& out) {
    StandingSet set = standing_set(scenario, best, volume);
    const auto power = per_flow(scenario, set);
    set = settle_boxes(scenario, driver, std::move(set), power, {}, plan);
    const ClosedBox box = closed_box(driver, set.volumes.front(), scenario.design.filling);
    const Listening heard = listen(scenario, driver, box, subs_of(set));
    SetFound& one = out.sets[0];
    one.known = true, one.criteria = heard.criteria;
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const auto at_seats = squared(pressure_at(heard.transfer_impedance, heard.volume_velocity));
    one.equalised =
        equalised_criteria(scenario, heard, equalise(judge, judge.seat_average(at_seats)));
    put_places(scenario, set.boxes, one);
    put_boxes(scenario, driver, power, plan, out);
}

/// The best set of so many: of two with every pair looked at, as plan does; of more by exchange
/// from a few starts, where plan looks at every set of a floor this coarse: in five rooms the same
/// pairs, and up to 0.1 more of score for threes and fours, in a hundredth of the time.
RankedSet best_set(SetRanker& ranker, int subs) {
    if (subs == 2) return ranker.best(subs, 6);
    SetSearchOptions quick;
    quick.budget = 5e6, quick.starts = 8, quick.keep = 100;
    return ranker.best(subs, 2, quick);
}

/// The best of each further number, in the box to begin with.
void judge_sets(const Scenario& scenario, SetRanker& ranker, double volume,
                const std::vector<int>& counts, JudgedRoom& out) {
    for (const int subs : counts) {
        if (subs == 1) continue;
        SetFound& found = out.sets[static_cast<std::size_t>(subs - 1)];
        try {
            const RankedSet best = best_set(ranker, subs);
            found.known = true, found.criteria = best.criteria, found.equalised = best.after;
            put_places(scenario, standing_set(scenario, best, volume).boxes, found);
        } catch (const Error&) {  // so many do not fit
        }
    }
}

void judge_corner(const Scenario& scenario, const Plan& plan, JudgedRoom& out) {
    for (std::size_t n = 0; n < plan.spots.size(); ++n) {
        const RankedSpot& spot = plan.spots[n];
        const double volume = plan.spot_boxes[n].volume;
        if (!stands_in_corner(scenario, standing_at(scenario, spot.footprint, spot.facing, volume)))
            continue;
        out.corner_loss = spot.criteria.score - plan.spots.front().criteria.score;
        return;  // best first
    }
}

/// Spread of boxes alike that stand at some of these places, whose transfer to the seats is known.
double spread_of(const Judge& judge, const TransferImpedance<float>& z,
                 const std::vector<std::size_t>& places) {
    ByFrequency<double> power(z.frequencies, z.receivers);
    for (std::size_t f = 0; f < z.frequencies; ++f)
        for (std::size_t s = 0; s < z.receivers; ++s) {
            std::complex<double> sum = 0;
            for (const std::size_t place : places) sum += std::complex<double>(z.at(f, s, place));
            power(f, s) = std::norm(sum);
        }
    Criteria out;
    judge.judge_seats(power, out);
    return out.spread_db;
}

void judge_quoted(const Scenario& scenario, double volume, JudgedRoom& out) {
    const Acoustics& a = scenario.acoustics;
    if (!a.room.is_rectangle()) return;
    std::vector<Point> cones;
    for (const BoxStanding& box : wall_middles(scenario, volume)) cones.push_back(box.cone);
    for (const BoxStanding& box : room_corners(scenario, volume)) cones.push_back(box.cone);
    const auto z =
        room_transfer_many(a.room, a.air, a.frequency, cones, places_of(scenario.seats), a.solver);
    const Judge judge(a.frequency, scenario.seats, scenario.judgement.target);
    out.two_middles_spread_db = std::min(spread_of(judge, z, {left_wall, right_wall}),
                                         spread_of(judge, z, {front_wall, back_wall}));
    out.four_middles_spread_db = spread_of(judge, z, {0, 1, 2, 3});
    out.four_corners_spread_db = spread_of(judge, z, {4, 5, 6, 7});
}

}  // namespace

JudgedRoom judge_room(const Scenario& scenario, const std::vector<int>& counts) {
    JudgedRoom out;
    out.absorption_50_hz = mean_absorption(scenario.acoustics.room, scenario.acoustics.air, 50);
    const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    Timings timings;
    try {
        Plan plan = make_plan(scenario, driver, timings);
        judge_corner(scenario, plan, out);
        const ClosedBox first =
            closed_box(driver, plan.boxes[plan.build].volume, scenario.design.filling);
        SetRanker ranker(scenario, driver, first, timings);
        judge_one(scenario, driver, ranker.best(1), first.volume, plan, out);
        judge_sets(scenario, ranker, first.volume, counts, out);
        judge_quoted(scenario, first.volume, out);
        out.planned = true;
    } catch (const Error&) {  // no box of this driver can stand anywhere in this room
        JudgedRoom none;
        none.absorption_50_hz = out.absorption_50_hz;
        return none;
    }
    return out;
}

}  // namespace boxroom
