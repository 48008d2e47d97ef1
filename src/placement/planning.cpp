#include "placement/planning.hpp"

#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "placement/box_sweep.hpp"
#include "placement/box_verdict.hpp"
#include "placement/building.hpp"
#include "placement/spot_fields.hpp"
#include "placement/spot_ranking.hpp"

namespace boxroom {
namespace {

BoxOption option(const ClosedBox& box, const Sides& outer) {
    BoxOption o;
    o.qtc = box.qtc, o.volume = box.volume, o.fc = box.fc, o.f3 = box.f3();
    o.outer = outer;
    return o;
}

/// The sweep: its boxes, how large they stand, and how hard each drives the room.
struct Sweep {
    std::vector<ClosedBox> boxes;
    std::vector<TriedBox> tried;  ///< the same
    std::vector<double> weight;   ///< finished [kg]
    int size() const { return static_cast<int>(boxes.size()); }
    double smallest() const { return boxes.back().volume; }  // rising Qtc is falling volume
    double largest() const { return boxes.front().volume; }
    const Sides& outer(int b) const { return tried[b].outer; }
};

Sweep sweep_of(const Scenario& scenario, const Driver& driver) {
    Sweep sweep{boxes_to_try(scenario, driver), {}, {}};
    for (const ClosedBox& box : sweep.boxes) {
        const Sides outer = enclosure(box.volume, scenario.design.enclosure);
        auto u = volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air);
        const std::size_t frequencies = u.size();
        const double weight = finished_weight(scenario, box.volume);
        sweep.weight.push_back(weight);
        sweep.tried.push_back({box.volume,
                               outer,
                               {frequencies, 1, 1, std::move(u)},
                               can_be_built(outer, scenario.design.enclosure, driver.sd) &&
                                   box.volume <= scenario.design.largest.value_or(HUGE_VAL) &&
                                   weight <= scenario.design.heaviest.value_or(HUGE_VAL)});
    }
    return sweep;
}

/// The boxes by themselves: what each does in half space, and whether it can be built at all.
std::vector<BoxOption> options_of(const Scenario& scenario, const Judge& judge,
                                  const Sweep& sweep) {
    std::vector<BoxOption> options;
    for (int b = 0; b < sweep.size(); ++b) {
        options.push_back(option(sweep.boxes[b], sweep.outer(b)));
        BoxOption& one = options.back();
        one.weight = sweep.weight[b];
        one.fits = one.buildable = sweep.tried[b].buildable;
        options.back().half_space_balance_db = judge.balance(half_space_power(
            scenario.acoustics.frequency, sweep.tried[b].flow.values(), scenario.acoustics.air));
    }
    return options;
}

/// The chosen spot in full, before anything is rounded: its balance with each box, and which of
/// them to build there.
void settle(const Scenario& scenario, const Driver& driver, const SpotGrid& grid,
            const SpotFields& fields, const Sweep& sweep, const JudgedFloor& floor, int spot,
            Plan& plan) {
    for (int b = 0; b < sweep.size(); ++b) {
        plan.boxes[b].in_room_balance_db = floor.balance_db[b][spot];
        plan.boxes[b].fits = plan.boxes[b].buildable && grid.fits(spot, sweep.outer(b));
    }
    const double middle = sweep.boxes[floor.box[spot]].volume;  // the cone hardly moves
    find_loudest(scenario, driver, SpotBlock(fields, fields.number(spot)).squared(0, middle), plan);
    choose_boxes(scenario, plan);
    plan.spot = ranked(grid, sweep.outer(plan.build), spot, 1, floor.criteria[spot]);
}

}  // namespace

Plan make_plan(const Scenario& scenario, const Driver& driver, Timings& timings) {
    // 1. The boxes, and what each does in half space.
    double start = seconds_now();
    const auto lap = [&](const char* phase) {
        timings[phase] += seconds_now() - start;
        start = seconds_now();
    };
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const Sweep sweep = sweep_of(scenario, driver);
    Plan plan;
    plan.boxes = options_of(scenario, judge, sweep);

    // 2. The room, once for all of them.
    const SpotGrid grid(scenario, sweep.tried.back().outer);
    // What fits the smallest box is looked at for every box, so the curve of balance has no holes.
    const SpotFields fields(scenario, grid, sweep.smallest(), sweep.largest(),
                            fitting(grid, sweep.tried.back().outer));
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    lap("solve");

    // 3. Each spot with the box that balances best there.
    JudgedFloor floor = judge_floor(judge, ringing, grid, fields, sweep.tried);
    const std::vector<int> order =
        order_by_score(floor.criteria, floor.fits, scenario.judgement.weights);
    for (std::size_t n = 0; n < order.size(); ++n) {
        const int spot = order[n], b = floor.box[spot];
        plan.spots.push_back(
            ranked(grid, sweep.outer(b), spot, static_cast<int>(n) + 1, floor.criteria[spot]));
        plan.spot_boxes.push_back(plan.boxes[b]);
    }

    // 4. The box at the best spot, and how loud each plays there.
    const int spot = order.front();
    settle(scenario, driver, grid, fields, sweep, floor, spot, plan);
    SpotMaps by_spot =
        spot_maps(scenario, grid, sweep.outer(plan.build), floor.criteria, floor.fits);
    plan.maps = {std::move(by_spot.spread), std::move(by_spot.scores)};
    lap("rank");
    return plan;
}

}  // namespace boxroom
