// What a percentile of the draws is, by the plain way: each draw pair by pair in double precision.
#include <algorithm>
#include <catch2/catch.hpp>

#include "placement/pressure.hpp"
#include "solvers/modal.hpp"
#include "tuning/draws.hpp"
#include "tuning/judged_draws.hpp"
#include "tuning/set_ranking.hpp"
#include "unit/small_room.hpp"

using namespace boxroom;

namespace {

constexpr int draws = 21;  // whose tenths are draws, not between two

double plain_difference(const Scenario& s, double volume, const RankedSet& set,
                        std::span<const double> frequency, int number) {
    const Draw draw = draw_inputs(s, number);
    std::vector<Point> subs;
    for (std::size_t k = 0; k < set.positions.size(); ++k)
        subs.push_back(moved(set.positions[k], s.acoustics.room, draw.room, draw.shift[k]));
    auto z = modal_transfer(draw.room, s.acoustics.air, frequency, subs, places_of(draw.seats));
    const Driver driver = complete_driver(draw.driver, s.acoustics.air);
    const auto u = volume_velocity(driver, closed_box(driver, volume, s.design.filling), frequency,
                                   s.acoustics.air);
    auto each = dial_factors(frequency, set.settings);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t k = 0; k < subs.size(); ++k) each(f, k) *= u[f];
    const ByFrequency<std::complex<double>> transfer(z.frequencies, z.receivers, z.sources,
                                                     std::move(z.value));
    Criteria c;
    Judge(frequency, draw.seats, s.judgement.target)
        .judge_seats(squared(pressure_at(transfer, each)), c);
    return c.largest_difference_db;
}

}  // namespace

TEST_CASE("Percentiles of the largest difference are those of draws in double precision") {
    Scenario s = small_room(0.6, 12);
    s.judgement.uncertainty.draws = draws;
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    Timings timings;
    const SetRanking ranking = rank_sets(s, driver, box, 2, timings);
    const RankedSet& set = ranking.sets.front();
    JudgedDraws judged(s, box.volume, {&set}, {});
    const auto frequency = JudgedFrequencies(s).of(s.acoustics.room);
    std::vector<double> plain;
    for (int n = 0; n < draws; ++n)
        plain.push_back(plain_difference(s, box.volume, set, frequency, n));
    std::ranges::sort(plain);
    for (const int tenths : {1, 5, 9}) {
        INFO(tenths);
        CHECK(judged.percentile(0, &Criteria::largest_difference_db, 0.1 * tenths) ==
              Approx(plain[2 * tenths]).margin(1e-6));
    }
    // Between two of them in proportion: 0.125 of 20 steps is half way from the second to the
    // third.
    CHECK(judged.percentile(0, &Criteria::largest_difference_db, 0.125) ==
          Approx((plain[2] + plain[3]) / 2).margin(1e-6));
}
