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
    std::vector<Sides> outer;
    std::vector<ByFrequency<std::complex<double>>> flow;  ///< volume velocity (F,1)
    int size() const { return static_cast<int>(boxes.size()); }
    double smallest() const { return boxes.back().volume; }  // rising Qtc is falling volume
    double largest() const { return boxes.front().volume; }
    BoxThere at(int b, const SpotGrid& grid) const {
        return {boxes[b].volume, outer[b], grid, flow[b]};
    }
};

Sweep sweep_of(const Scenario& scenario, const Driver& driver) {
    Sweep sweep{boxes_to_try(scenario, driver), {}, {}};
    for (const ClosedBox& box : sweep.boxes) {
        sweep.outer.push_back(enclosure(box.volume, scenario.design.enclosure));
        auto u = volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air);
        const std::size_t frequencies = u.size();
        sweep.flow.emplace_back(frequencies, 1, 1, std::move(u));
    }
    return sweep;
}

/// The boxes by themselves: what each does in half space, and whether it can be built at all.
std::vector<BoxOption> options_of(const Scenario& scenario, const Driver& driver,
                                  const Judge& judge, const Sweep& sweep) {
    std::vector<BoxOption> options;
    for (int b = 0; b < sweep.size(); ++b) {
        options.push_back(option(sweep.boxes[b], sweep.outer[b]));
        BoxOption& one = options.back();
        one.weight = finished_weight(scenario, one.volume);
        one.fits = one.buildable =
            can_be_built(sweep.outer[b], scenario.design.enclosure, driver.sd) &&
            one.volume <= scenario.design.largest.value_or(HUGE_VAL) &&
            one.weight <= scenario.design.heaviest.value_or(HUGE_VAL);
        options.back().half_space_balance_db = judge.balance(half_space_power(
            scenario.acoustics.frequency, sweep.flow[b].values(), scenario.acoustics.air));
    }
    return options;
}

/// What the spots are worth, each with the box that balances best there.
struct SpotVerdicts {
    std::vector<std::vector<Criteria>> tried;  ///< [box][spot], the balance alone
    std::vector<Criteria> best;                ///< [spot]
    std::vector<int> box_of;                   ///< [spot], -1 where none fits
    std::vector<std::uint8_t> fits;            ///< [spot]
};

SpotVerdicts judge_every_spot(const Judge& judge, const SpotFields& fields,
                              const RingingModes& ringing, const SpotGrid& grid, const Sweep& sweep,
                              const std::vector<BoxOption>& options) {
    const auto spots = static_cast<std::size_t>(grid.size());
    // What fits the smallest box is looked at for every box, so the curve of balance has no holes.
    const std::vector<std::uint8_t> possible = fitting(grid, sweep.outer.back());
    SpotVerdicts v{std::vector(sweep.boxes.size(), std::vector<Criteria>(spots)),
                   std::vector<Criteria>(spots), std::vector<int>(spots, -1),
                   std::vector<std::uint8_t>(spots, 0)};
    for (int b = 0; b < sweep.size(); ++b) {
        judge_spots(judge, fields, ringing, Depth::balance_only, possible, sweep.at(b, grid),
                    v.tried[b]);
        if (!options[b].fits) continue;
        const std::vector<std::uint8_t> this_fits = fitting(grid, sweep.outer[b]);
        for (std::size_t spot = 0; spot < spots; ++spot) {
            if (!possible[spot] || !this_fits[spot]) continue;
            if (v.fits[spot] && v.tried[b][spot].balance_db >= v.best[spot].balance_db) continue;
            v.fits[spot] = 1, v.best[spot] = v.tried[b][spot], v.box_of[spot] = b;
        }
    }
    for (int b = 0; b < sweep.size(); ++b) {
        std::vector<std::uint8_t> chosen_here(spots);
        for (std::size_t spot = 0; spot < spots; ++spot) chosen_here[spot] = v.box_of[spot] == b;
        judge_spots(judge, fields, ringing, Depth::all, chosen_here, sweep.at(b, grid), v.best);
    }
    return v;
}

/// The chosen spot in full, before anything is rounded: its balance with each box, and which of
/// them to build there.
void settle(const Scenario& scenario, const Driver& driver, const SpotGrid& grid,
            const SpotFields& fields, const Sweep& sweep, const SpotVerdicts& verdicts, int spot,
            Plan& plan) {
    for (int b = 0; b < sweep.size(); ++b) {
        plan.boxes[b].in_room_balance_db = verdicts.tried[b][spot].balance_db;
        plan.boxes[b].fits = plan.boxes[b].buildable && grid.fits(spot, sweep.outer[b]);
    }
    const double middle = sweep.boxes[verdicts.box_of[spot]].volume;  // the cone hardly moves
    std::vector<float> squared;
    fields.squared(middle, spot, 1, squared);
    const ByFrequency<double> power(scenario.acoustics.frequency.size(), scenario.seats.size(), 1,
                                    {squared.begin(), squared.end()});
    find_loudest(scenario, driver, power, plan);
    choose_boxes(scenario, plan);
    plan.spot = ranked(grid, sweep.outer[plan.build], spot, 1, verdicts.best[spot]);
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
    plan.boxes = options_of(scenario, driver, judge, sweep);

    // 2. The room, once for all of them.
    const SpotGrid grid(scenario, sweep.outer.back());
    const SpotFields fields(scenario, grid, sweep.smallest(), sweep.largest());
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    lap("solve");

    // 3. Each spot with the box that balances best there.
    SpotVerdicts verdicts = judge_every_spot(judge, fields, ringing, grid, sweep, plan.boxes);
    const std::vector<int> order =
        order_by_score(verdicts.best, verdicts.fits, scenario.judgement.weights);
    for (std::size_t n = 0; n < order.size(); ++n) {
        const int spot = order[n], b = verdicts.box_of[spot];
        plan.spots.push_back(
            ranked(grid, sweep.outer[b], spot, static_cast<int>(n) + 1, verdicts.best[spot]));
        plan.spot_boxes.push_back(plan.boxes[b]);
    }

    // 4. The box at the best spot, and how loud each plays there.
    const int spot = order.front();
    settle(scenario, driver, grid, fields, sweep, verdicts, spot, plan);
    SpotMaps by_spot =
        spot_maps(scenario, grid, sweep.outer[plan.build], verdicts.best, verdicts.fits);
    plan.maps = {std::move(by_spot.spread), std::move(by_spot.scores)};
    lap("rank");
    return plan;
}

}  // namespace boxroom
