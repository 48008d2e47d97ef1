#include "placement/planning.hpp"

#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "placement/box_sweep.hpp"
#include "placement/plane_map.hpp"
#include "placement/spot_fields.hpp"
#include "placement/spot_ranking.hpp"

namespace boxroom {
namespace {

/// How loud each box plays at the chosen spot, and the smallest that is loud enough.
void find_loudest(const Scenario& scenario, const Driver& driver, const Judge& judge,
                  const SpotFields& fields, const std::vector<ClosedBox>& boxes, int spot,
                  Plan& plan) {
    const double from =
        scenario.judgement.target.down_to.value_or(scenario.judgement.target.band.low);
    for (std::size_t b = 0; b < boxes.size(); ++b) {
        const auto ceiling = drive_ceiling(driver, boxes[b], scenario.design.amplifier,
                                           scenario.acoustics.frequency, scenario.acoustics.air);
        if (!ceiling.known()) return;
        std::vector<float> squared;
        fields.squared(boxes[b].volume, spot, 1, squared);
        std::vector<double> power =
            judge.seat_average({judge.frequency().size(), judge.seats(), 1,
                                std::vector<double>(squared.begin(), squared.end())});
        for (std::size_t f = 0; f < power.size(); ++f)
            power[f] *= ceiling.volume_velocity[f] * ceiling.volume_velocity[f];
        const Judge::Touch touch = judge.highest_target(power, from);
        BoxOption& box = plan.boxes[b];
        box.loudest_db = touch.level_db;
        box.limited_at_hz = scenario.acoustics.frequency[touch.index];
        box.limited_by = limit_name(ceiling.limited_by[touch.index]);
        // Rising Qtc is falling volume: the last that does is the smallest.
        if (scenario.judgement.target.level && box.fits &&
            box.loudest_db >= *scenario.judgement.target.level)
            plan.smallest_for_level = static_cast<int>(b);
    }
}

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
        options.back().fits = can_be_built(sweep.outer[b], scenario.design.enclosure, driver.sd);
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

/// The box at the chosen spot: best there, in half space, by the textbook; and the one to build,
/// the smallest that is as good to within what anybody hears.
void choose_box(const Target& target, const SpotGrid& grid, const Sweep& sweep,
                const SpotVerdicts& verdicts, int spot, Plan& plan) {
    const auto least = [&](auto value) {
        int index = 0;
        for (int b = 1; b < sweep.size(); ++b)
            if (value(b) < value(index)) index = b;
        return index;
    };
    for (int b = 0; b < sweep.size(); ++b) {
        plan.boxes[b].in_room_balance_db = verdicts.tried[b][spot].balance_db;
        plan.boxes[b].fits = plan.boxes[b].fits && grid.fits(spot, sweep.outer[b]);
    }
    plan.half_space_best = least([&](int b) { return plan.boxes[b].half_space_balance_db; });
    plan.textbook = least([&](int b) { return std::abs(sweep.boxes[b].qtc - textbook_qtc); });
    plan.in_room_best = plan.build = verdicts.box_of[spot];
    const double good = plan.boxes[plan.in_room_best].in_room_balance_db + target.indifference;
    const double bearable = std::max(1.0, sweep.boxes[plan.in_room_best].qtc) + 1e-9;
    for (int b = plan.in_room_best; b < sweep.size(); ++b)
        if (plan.boxes[b].fits && sweep.boxes[b].qtc <= bearable &&
            plan.boxes[b].in_room_balance_db <= good)
            plan.build = b;
}

/// Maps by spot, and of the level over the floor with the box to build in its place.
std::vector<FloorMap> plan_maps(const Scenario& scenario, const Driver& driver,
                                const SpotGrid& grid, const Sweep& sweep,
                                const SpotVerdicts& verdicts, const Plan& plan) {
    SpotMaps by_spot =
        spot_maps(scenario, grid, sweep.outer[plan.build], verdicts.best, verdicts.fits);
    by_spot.spread.subs = by_spot.scores.subs = plan.at_build.subs;
    std::vector<FloorMap> maps{by_spot.spread, by_spot.scores};
    Scenario placed = scenario;
    placed.placed.subs = plan.at_build.subs;
    for (FloorMap& map : listening_plane_maps(placed, driver, sweep.boxes[plan.build]))
        maps.push_back(std::move(map));
    return maps;
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
    choose_box(scenario.judgement.target, grid, sweep, verdicts, spot, plan);
    find_loudest(scenario, driver, judge, fields, sweep.boxes, spot, plan);
    lap("rank");

    // 5. The responses there, in full, and the pictures' data.
    const auto heard = [&](int b) {
        return listen(scenario, driver, sweep.boxes[b],
                      {{"sub", grid.centre(spot, sweep.outer[b])}});
    };
    plan.at_build = heard(plan.build);
    plan.at_textbook = heard(plan.textbook);
    Criteria chosen = plan.at_build.criteria;
    chosen.score = verdicts.best[spot].score;
    plan.spot = ranked(grid, sweep.outer[plan.build], spot, 1, chosen);
    plan.maps = plan_maps(scenario, driver, grid, sweep, verdicts, plan);
    lap("solve");
    return plan;
}

}  // namespace boxroom
