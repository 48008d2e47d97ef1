#include "placement/spot_ranking.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "placement/box_kernel.hpp"
#include "placement/pressure.hpp"
#include "placement/wording.hpp"

namespace boxroom {

namespace {

/// The best balanced of the boxes that may stand at a spot, -1 if none does.
int best_box(const SpotGrid& grid, const std::vector<TriedBox>& boxes,
             std::span<const double> balance, int spot) {
    int best = -1;
    for (std::size_t b = 0; b < boxes.size(); ++b)
        if (boxes[b].buildable && (best < 0 || balance[b] < balance[best]) &&
            grid.fits(spot, boxes[b].outer))
            best = static_cast<int>(b);
    return best;
}

}  // namespace

JudgedFloor judge_floor(const Judge& judge, const RingingModes& ringing, const SpotGrid& grid,
                        const SpotFields& fields, const std::vector<TriedBox>& tried) {
    std::vector<DrivenBox> boxes;
    for (const TriedBox& box : tried)
        boxes.push_back({squared(box.flow).values(), fields.product_weights(box.net_volume)});
    const BoxKernel kernel(judge, boxes);
    const auto spots = static_cast<std::size_t>(grid.size());
    JudgedFloor out{std::vector(boxes.size(), std::vector<double>(spots)),
                    std::vector<int>(spots, -1), std::vector<std::uint8_t>(spots, 0),
                    std::vector<Criteria>(spots)};
    const int blocks = (fields.size() + SpotBlock::most - 1) / SpotBlock::most;
    for_each_in_parallel(blocks, 1, [&](std::size_t n) {
        const int first = static_cast<int>(n) * SpotBlock::most;
        const SpotBlock block(fields, first);
        BoxKernel::Scratch scratch;
        std::vector<double> balance(boxes.size());
        for (int i = 0; i < block.count(); ++i) {
            const int spot = fields.spot(first + i);
            const SpotMean mean = block.mean(i, judge.seat_weight());
            kernel.balances(mean, scratch, balance);
            for (std::size_t b = 0; b < boxes.size(); ++b) out.balance_db[b][spot] = balance[b];
            const int chosen = out.box[spot] = best_box(grid, tried, balance, spot);
            out.fits[spot] = chosen >= 0;
            if (chosen < 0) continue;
            const TriedBox& box = tried[chosen];
            ByFrequency<double> power = block.squared(i, box.net_volume);
            for (std::size_t f = 0; f < power.frequencies(); ++f)
                for (double& p : power.at(f)) p *= boxes[chosen].power[f];
            const auto average = judge.seat_average(power);
            const Point centre[] = {grid.centre(spot, box.outer)};
            Criteria& criteria = out.criteria[spot];
            judge.judge_seats(power, criteria);
            judge.judge_average(average, criteria);
            criteria.ringing_s = ringing.excess(centre, box.flow, average);
        }
    });
    return out;
}

std::vector<std::uint8_t> fitting(const SpotGrid& grid, const Sides& box) {
    std::vector<std::uint8_t> fits(grid.size());
    for (int spot = 0; spot < grid.size(); ++spot) fits[spot] = grid.fits(spot, box);
    return fits;
}

SpotMaps spot_maps(const Scenario& scenario, const SpotGrid& grid, const Sides& box,
                   const std::vector<Criteria>& criteria, const std::vector<std::uint8_t>& fits) {
    SpotMaps maps{blank_spot_map(scenario, grid, box), blank_spot_map(scenario, grid, box)};
    maps.spread.name = "spread_by_spot";
    maps.spread.title = "Spread between the seats, by where the box stands";
    maps.spread.quantity = "spread";
    maps.scores.name = "score_by_spot";
    maps.scores.title = "Score (lower is better), by where the box stands";
    maps.scores.quantity = "score";
    for (std::size_t spot = 0; spot < criteria.size(); ++spot) {
        maps.spread.valid[spot] = maps.scores.valid[spot] = fits[spot];
        if (!fits[spot]) continue;
        maps.spread.value[spot] = criteria[spot].spread_db;
        maps.scores.value[spot] = criteria[spot].score;
    }
    return maps;
}

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

Ranking rank_spots(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                   Timings& timings) {
    const double start = seconds_now();
    const Sides outer = enclosure(box.volume, scenario.design.enclosure);
    const SpotGrid grid(scenario, outer);
    const SpotFields fields(scenario, grid, box.volume, box.volume, fitting(grid, outer));
    const double solved = seconds_now();
    timings["solve"] += solved - start;

    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const ByFrequency<std::complex<double>> flow(
        judge.frequency().size(), 1, 1,
        volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air));
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    auto [balance, box_of, fits, criteria] =
        judge_floor(judge, ringing, grid, fields, {{box.volume, outer, flow, true}});
    const std::vector<int> order = order_by_score(criteria, fits, scenario.judgement.weights);

    Ranking ranking;
    ranking.box_volume = box.volume;
    ranking.qtc = box.qtc;
    ranking.outer = outer;
    for (std::size_t n = 0; n < order.size(); ++n)
        ranking.spots.push_back(
            ranked(grid, outer, order[n], static_cast<int>(n) + 1, criteria[order[n]]));
    const SpotMaps maps = spot_maps(scenario, grid, outer, criteria, fits);
    ranking.spread_map = maps.spread, ranking.score_map = maps.scores;
    const PlacedSub best{"best spot", ranking.spots.front().positions.front()};
    ranking.spread_map.subs = ranking.score_map.subs = {best};
    ranking.reason =
        spot_reason(ranking.spots.front().criteria, ranking.spots, scenario.seats.size() > 1);
    timings["rank"] += seconds_now() - solved;
    return ranking;
}

}  // namespace boxroom
