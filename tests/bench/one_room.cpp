// One room as a survey plans it: 300 spots, 4 seats, 15 boxes, then one and two subs of the chosen
// box; no pictures, no report, no draws. Prints milliseconds of wall and of processor time by part.
#include <chrono>
#include <cstdio>
#include <ctime>

#include "placement/planning.hpp"
#include "tuning/set_ranking.hpp"

using namespace boxroom;

namespace {

double now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

Scenario scenario() {
    Scenario s;
    s.title = "bench";
    s.acoustics.room = {4.4, 5.6, 2.5, {}, {}};
    for (int wall = 0; wall < 6; ++wall)
        s.acoustics.room.walls[wall] = wall_from_absorption(0.03 + 0.03 * wall, s.acoustics.air);
    s.acoustics.frequency = logarithmic_grid({10, 200}, 48);
    s.seats = {{"a", {1.6, 3.9, 1.1}, 1},
               {"b", {2.2, 3.9, 1.1}, 1},
               {"c", {2.8, 3.9, 1.1}, 1},
               {"d", {2.2, 4.8, 1.2}, 0.5}};
    s.design.driver.fs = 27, s.design.driver.qts = 0.45, s.design.driver.vas = 0.038;
    s.design.sweep = QtcSweep{0.5, 1.2, 15};
    s.wanted.spots.step = 0.265;
    return s;
}

}  // namespace

int main() {
    const Scenario s = scenario();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    double best[4] = {1e9, 1e9, 1e9, 1e9}, processor = 1e9;
    std::size_t spots = 0;
    for (int round = 0; round < 7; ++round) {
        Timings timings;
        const std::clock_t began = std::clock();
        double time[4] = {now()};
        const Plan plan = make_plan(s, driver, timings);
        time[1] = now();
        SetRanker ranker(s, driver,
                         closed_box(driver, plan.boxes[plan.build].volume, s.design.filling),
                         timings);
        ranker.best(1);
        time[2] = now();
        ranker.best(2);
        time[3] = now();
        for (int part = 0; part < 3; ++part)
            best[part] = std::min(best[part], time[part + 1] - time[part]);
        best[3] = std::min(best[3], time[3] - time[0]);
        processor = std::min(processor, static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC);
        spots = plan.spots.size();
    }
    std::printf(
        "%zu spots: plan %.1f ms, solving for one box and the best single %.1f ms, pairs %.1f ms; "
        "together %.1f ms, %.1f ms of processors\n",
        spots, 1e3 * best[0], 1e3 * best[1], 1e3 * best[2], 1e3 * best[3], 1e3 * processor);
}
