#include "placement/planning.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "base/error.hpp"
#include "placement/plane_map.hpp"
#include "placement/spot_fields.hpp"
#include "placement/wording.hpp"

namespace boxroom {
namespace {

constexpr double textbook_qtc = 1 / std::numbers::sqrt2;  // maximally flat (Small 1972)

enum class Depth { balance_only, all };

/// Judges the spots for which wanted[spot] holds, for one box, into `result`. The sweep asks for
/// the balance alone, which is what it chooses by and a fifth of the work.
void judge_spots(const Judge& judge, const SpotFields& fields, Depth depth,
                 const std::vector<std::uint8_t>& wanted,
                 const std::vector<double>& volume_velocity_power, double net_volume,
                 std::vector<Criteria>& result) {
    const int spots = static_cast<int>(wanted.size());
    const int block = 64;
    const std::size_t seats = judge.seats(), frequencies = judge.frequency().size();
#pragma omp parallel for schedule(dynamic, 1)
    for (int first = 0; first < spots; first += block) {
        const int count = std::min(block, spots - first);
        if (std::none_of(&wanted[first], &wanted[first] + count, [](auto w) { return w != 0; }))
            continue;
        std::vector<float> squared;
        fields.squared(net_volume, first, count, squared);
        ByFrequency<double> power(frequencies, seats);
        for (int i = 0; i < count; ++i) {
            if (!wanted[first + i]) continue;
            Criteria& criteria = result[first + i];
            for (std::size_t f = 0; f < frequencies; ++f)
                for (std::size_t s = 0; s < seats; ++s)
                    power(f, s) = squared[(f * seats + s) * count + i] * volume_velocity_power[f];
            if (depth == Depth::all) {
                judge.judge_seats(power, criteria);
                judge.judge_average(judge.seat_average(power), criteria);
            } else {
                criteria.balance_db = judge.balance(judge.seat_average(power));
            }
        }
    }
}

std::vector<std::uint8_t> fitting(const SpotGrid& grid, const Sides& box) {
    std::vector<std::uint8_t> fits(grid.size());
    for (int spot = 0; spot < grid.size(); ++spot) fits[spot] = grid.fits(spot, box);
    return fits;
}

std::vector<double> squared_moduli(const std::vector<std::complex<double>>& u) {
    std::vector<double> power;
    for (const auto& value : u) power.push_back(std::norm(value));
    return power;
}

void fill_maps(FloorMap& spread, FloorMap& scores, const std::vector<Criteria>& criteria,
               const std::vector<std::uint8_t>& fits) {
    spread.name = "spread_by_spot";
    spread.title = "Spread between the seats, by where the box stands";
    spread.quantity = "spread";
    scores.name = "score_by_spot";
    scores.title = "Score (lower is better), by where the box stands";
    scores.quantity = "score";
    for (std::size_t spot = 0; spot < criteria.size(); ++spot) {
        spread.valid[spot] = scores.valid[spot] = fits[spot];
        if (!fits[spot]) continue;
        spread.value[spot] = criteria[spot].spread_db;
        scores.value[spot] = criteria[spot].score;
    }
}

/// Scores against the loudest spot that fits; returns the spots that fit, best first.
std::vector<int> order_by_score(std::vector<Criteria>& criteria,
                                const std::vector<std::uint8_t>& fits,
                                const ScoreWeights& weights) {
    double loudest = -1e9;
    std::vector<int> order;
    for (std::size_t spot = 0; spot < criteria.size(); ++spot) {
        if (!fits[spot]) continue;
        loudest = std::max(loudest, criteria[spot].level_db);
        order.push_back(static_cast<int>(spot));
    }
    if (order.empty())
        throw Error(
            "[spots]", "no box of the sweep fits anywhere in this room",
            "loosen [[keep_out]], [spots] gap, seat_clearance or tallest, or try other boxes "
            "(smaller for the room, larger where the driver's cut-out does not go in)");
    for (int spot : order) criteria[spot].score = score(criteria[spot], loudest, weights);
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return criteria[a].score < criteria[b].score; });
    return order;
}

RankedSpot ranked(const SpotGrid& grid, const Sides& box, int spot, int rank,
                  const Criteria& criteria) {
    return {rank, {grid.centre(spot, box)}, grid.footprint(spot, box), grid.facing(spot), criteria};
}

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

/// The boxes to try, by rising Qtc.
std::vector<ClosedBox> boxes_to_try(const Scenario& scenario, const Driver& driver) {
    std::vector<ClosedBox> boxes;
    if (scenario.design.volume_sweep) {
        for (double volume : *scenario.design.volume_sweep)
            boxes.push_back(closed_box(driver, volume, scenario.design.filling));
    } else {
        QtcSweep sweep = scenario.design.sweep.value_or(QtcSweep{});
        sweep.low = std::max(sweep.low, 1.05 * driver.qts);  // no box can go below Qts
        if (sweep.high <= sweep.low)
            throw Error("[box] sweep", "no Qtc of the sweep is possible: a box only raises Qts",
                        "give a sweep that reaches above the driver's Qts");
        std::vector<double> qtc;
        for (int n = 0; n < sweep.steps; ++n)
            qtc.push_back(sweep.low + (sweep.high - sweep.low) * n / std::max(1, sweep.steps - 1));
        // The textbook box is always among them: the step nearest to it is moved on to it.
        if (textbook_qtc > sweep.low && textbook_qtc < sweep.high)
            *std::min_element(qtc.begin(), qtc.end(), [](double a, double b) {
                return std::abs(a - textbook_qtc) < std::abs(b - textbook_qtc);
            }) = textbook_qtc;
        for (double q : qtc)
            boxes.push_back(closed_box_for_qtc(driver, q, scenario.design.filling));
    }
    std::sort(boxes.begin(), boxes.end(),
              [](const ClosedBox& a, const ClosedBox& b) { return a.qtc < b.qtc; });
    return boxes;
}

BoxOption option(const ClosedBox& box, const Sides& outer) {
    BoxOption o;
    o.qtc = box.qtc, o.volume = box.volume, o.fc = box.fc, o.f3 = box.f3();
    o.outer = outer;
    return o;
}

}  // namespace

Ranking rank_spots(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Timings& timings) {
    const double start = seconds_now();
    const Sides outer = enclosure(box.volume, scenario.design.enclosure);
    const SpotGrid grid(scenario, outer);
    const SpotFields fields(scenario, grid, box.volume, box.volume);
    const double solved = seconds_now();
    timings["solve"] += solved - start;

    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const auto u =
        volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air);
    std::vector<Criteria> criteria(grid.size());
    const std::vector<std::uint8_t> fits = fitting(grid, outer);
    judge_spots(judge, fields, Depth::all, fits, squared_moduli(u), box.volume, criteria);
    const std::vector<int> order = order_by_score(criteria, fits, scenario.judgement.weights);

    Ranking ranking;
    ranking.box_volume = box.volume;
    ranking.qtc = box.qtc;
    ranking.outer = outer;
    for (std::size_t n = 0; n < order.size(); ++n)
        ranking.spots.push_back(
            ranked(grid, outer, order[n], static_cast<int>(n) + 1, criteria[order[n]]));
    ranking.spread_map = blank_spot_map(scenario, grid, outer);
    ranking.score_map = ranking.spread_map;
    fill_maps(ranking.spread_map, ranking.score_map, criteria, fits);
    const PlacedSub best{"best spot", ranking.spots.front().positions.front()};
    ranking.spread_map.subs = ranking.score_map.subs = {best};
    ranking.reason = spot_reason(ranking.spots.front().criteria, ranking.spots);
    timings["rank"] += seconds_now() - solved;
    return ranking;
}

Plan make_plan(const Scenario& scenario, const Driver& driver, Timings& timings) {
    // 1. The boxes, and what each does in half space.
    double start = seconds_now();
    const std::vector<ClosedBox> boxes = boxes_to_try(scenario, driver);
    const int count = static_cast<int>(boxes.size());
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    Plan plan;
    std::vector<Sides> outer;
    std::vector<std::vector<double>> source;  // |U|^2
    for (const ClosedBox& box : boxes) {
        outer.push_back(enclosure(box.volume, scenario.design.enclosure));
        plan.boxes.push_back(option(box, outer.back()));
        const auto u =
            volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air);
        source.push_back(squared_moduli(u));
        plan.boxes.back().half_space_balance_db = judge.balance(
            half_space_power(scenario.acoustics.frequency, u, scenario.acoustics.air));
    }

    // 2. The room, once for all of them. Rising Qtc is falling volume.
    const SpotGrid grid(scenario, outer.back());
    const SpotFields fields(scenario, grid, boxes.back().volume, boxes.front().volume);
    timings["solve"] += seconds_now() - start;
    start = seconds_now();

    // 3. Each spot with the box that balances best there.
    // What fits the smallest box is looked at for every box, so the curve of balance has no holes.
    const std::vector<std::uint8_t> possible = fitting(grid, outer.back());
    std::vector<std::vector<Criteria>> tried(count, std::vector<Criteria>(grid.size()));
    std::vector<Criteria> best(grid.size());
    std::vector<int> box_of(grid.size(), -1);
    std::vector<std::uint8_t> fits(grid.size(), 0);
    for (int b = 0; b < count; ++b) {
        judge_spots(judge, fields, Depth::balance_only, possible, source[b], boxes[b].volume,
                    tried[b]);
        plan.boxes[b].fits = can_be_built(outer[b], scenario.design.enclosure, driver.sd);
        if (!plan.boxes[b].fits) continue;
        const std::vector<std::uint8_t> this_fits = fitting(grid, outer[b]);
        for (int spot = 0; spot < grid.size(); ++spot) {
            if (!possible[spot] || !this_fits[spot]) continue;
            if (fits[spot] && tried[b][spot].balance_db >= best[spot].balance_db) continue;
            fits[spot] = 1, best[spot] = tried[b][spot], box_of[spot] = b;
        }
    }
    for (int b = 0; b < count; ++b) {
        std::vector<std::uint8_t> chosen_here(grid.size());
        for (int spot = 0; spot < grid.size(); ++spot) chosen_here[spot] = box_of[spot] == b;
        judge_spots(judge, fields, Depth::all, chosen_here, source[b], boxes[b].volume, best);
    }
    const std::vector<int> order = order_by_score(best, fits, scenario.judgement.weights);
    for (std::size_t n = 0; n < order.size(); ++n) {
        const int spot = order[n], b = box_of[spot];
        plan.spots.push_back(ranked(grid, outer[b], spot, static_cast<int>(n) + 1, best[spot]));
        plan.spot_boxes.push_back(plan.boxes[b]);
    }

    // 4. The box at the chosen spot.
    const int spot = order.front();
    const auto closest = [&](auto value) {
        int index = 0;
        for (int b = 1; b < count; ++b)
            if (value(b) < value(index)) index = b;
        return index;
    };
    for (int b = 0; b < count; ++b) {
        plan.boxes[b].in_room_balance_db = tried[b][spot].balance_db;
        plan.boxes[b].fits = plan.boxes[b].fits && grid.fits(spot, outer[b]);
    }
    plan.half_space_best = closest([&](int b) { return plan.boxes[b].half_space_balance_db; });
    plan.textbook = closest([&](int b) { return std::abs(boxes[b].qtc - textbook_qtc); });
    plan.in_room_best = box_of[spot];
    plan.build = plan.in_room_best;
    const double bearable = std::max(1.0, boxes[plan.in_room_best].qtc) + 1e-9;
    for (int b = plan.in_room_best; b < count; ++b)
        if (plan.boxes[b].fits && boxes[b].qtc <= bearable &&
            plan.boxes[b].in_room_balance_db <= plan.boxes[plan.in_room_best].in_room_balance_db +
                                                    scenario.judgement.target.indifference)
            plan.build = b;
    find_loudest(scenario, driver, judge, fields, boxes, spot, plan);
    timings["rank"] += seconds_now() - start;
    start = seconds_now();

    // 5. The responses there, in full.
    const auto place = [&](int b) {
        return std::vector<PlacedSub>{{"sub", grid.centre(spot, outer[b])}};
    };
    plan.at_build = listen(scenario, driver, boxes[plan.build], place(plan.build));
    plan.at_textbook = listen(scenario, driver, boxes[plan.textbook], place(plan.textbook));
    Criteria chosen = plan.at_build.criteria;
    chosen.score = best[spot].score;
    plan.spot = ranked(grid, outer[plan.build], spot, 1, chosen);
    timings["solve"] += seconds_now() - start;

    // 6. The pictures' data.
    FloorMap spread = blank_spot_map(scenario, grid, outer[plan.build]), scores = spread;
    fill_maps(spread, scores, best, fits);
    spread.subs = scores.subs = place(plan.build);
    plan.maps = {spread, scores};
    Scenario placed = scenario;
    placed.placed.subs = place(plan.build);
    const double mapping = seconds_now();
    for (FloorMap& map : listening_plane_maps(placed, driver, boxes[plan.build]))
        plan.maps.push_back(std::move(map));
    timings["solve"] += seconds_now() - mapping;
    return plan;
}

}  // namespace boxroom
