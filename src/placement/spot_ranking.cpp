#include "placement/spot_ranking.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "placement/pressure.hpp"
#include "placement/wording.hpp"

namespace boxroom {

void judge_spots(const Judge& judge, const SpotFields& fields, const RingingModes& ringing,
                 Depth depth, const std::vector<std::uint8_t>& wanted, const BoxThere& there,
                 std::vector<Criteria>& result) {
    const ByFrequency<double> source = squared(there.flow);
    const int spots = static_cast<int>(wanted.size()), block = 64;
    const std::size_t seats = judge.seats(), frequencies = judge.frequency().size();
    for_each_in_parallel((wanted.size() + block - 1) / block, 1, [&](std::size_t n) {
        const int first = static_cast<int>(n) * block, count = std::min(block, spots - first);
        if (std::none_of(&wanted[first], &wanted[first] + count, [](auto w) { return w != 0; }))
            return;
        std::vector<float> per_flow;
        fields.squared(there.net_volume, first, count, per_flow);
        ByFrequency<double> power(frequencies, seats);
        for (int i = 0; i < count; ++i) {
            if (!wanted[first + i]) continue;
            Criteria& criteria = result[first + i];
            for (std::size_t f = 0; f < frequencies; ++f)
                for (std::size_t s = 0; s < seats; ++s)
                    power(f, s) = per_flow[(f * seats + s) * count + i] * source(f, 0);
            const auto average = judge.seat_average(power);
            if (depth == Depth::balance_only) {
                criteria.balance_db = judge.balance(average);
                continue;
            }
            const Point centre[] = {there.grid.centre(first + i, there.outer)};
            judge.judge_seats(power, criteria);
            judge.judge_average(average, criteria);
            criteria.ringing_s = ringing.excess(centre, there.flow, average);
        }
    });
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
    const SpotFields fields(scenario, grid, box.volume, box.volume);
    const double solved = seconds_now();
    timings["solve"] += solved - start;

    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const ByFrequency<std::complex<double>> flow(
        judge.frequency().size(), 1, 1,
        volume_velocity(driver, box, scenario.acoustics.frequency, scenario.acoustics.air));
    std::vector<Criteria> criteria(grid.size());
    const std::vector<std::uint8_t> fits = fitting(grid, outer);
    const RingingModes ringing(scenario.acoustics, scenario.seats, scenario.judgement.target.band);
    judge_spots(judge, fields, ringing, Depth::all, fits, {box.volume, outer, grid, flow},
                criteria);
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
