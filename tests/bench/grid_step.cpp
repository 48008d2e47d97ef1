// Node updates a second of the grid solver, walls included, for tests/bench/grid_step.py.
// One field a thread, as a solve for several seats runs them. Prints one JSON line.
#include <algorithm>
#include <chrono>
#include <cstdio>
#ifdef _OPENMP
#include <omp.h>
#endif

#include "solvers/grid_field.hpp"

using namespace boxroom;

namespace {

double seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

/// Node updates a second over all threads.
double rate(Stencil stencil, bool walls, double& bytes_per_node) {
    Room room{4.1, 5.2, 2.45, {}, {}};
    if (walls)
        room.walls = {Wall{{{1500, 9, 1.8e6}}}, Wall{{{9000, 0, 0}}},  Wall{{{2200, 11, 1.8e6}}},
                      Wall{{{9000, 0, 0}}},     Wall{{{41000, 0, 0}}}, Wall{{{1800, 9, 2.3e6}}}};
    const Air air;
    const GridShape shape = grid_of_room(room, 0.07);
    const GridNodes nodes = grid_nodes(shape, stencil);
    int threads = 1;
#ifdef _OPENMP
    threads = omp_get_max_threads();
#endif
    std::vector<GridField<float>> field;
    for (int n = 0; n < threads; ++n)
        field.emplace_back(shape, nodes, air, 0.99 * longest_time_step(shape, stencil, air));
    bytes_per_node = static_cast<double>(field[0].bytes()) / nodes.size();
    constexpr int steps = 8;  // short goes: other work on the machine spoils few of them
    double total = 0;         // each thread's own best go, all of them at work
#pragma omp parallel for schedule(static, 1) reduction(+ : total)
    for (int n = 0; n < threads; ++n) {
        double best = 1e9;
        for (int go = 0; go < 300; ++go) {
            const double start = seconds();
            for (int step = 0; step < steps; ++step) field[n].update(step, 0, 1, 0);
            best = std::min(best, seconds() - start);
        }
        total += static_cast<double>(nodes.size()) * steps / best;
    }
    return total;
}

}  // namespace

int main() {
    double bytes = 0, unused = 0;
    const double seven = rate(Stencil::seven_points, true, bytes);
    const double seven_rigid = rate(Stencil::seven_points, false, unused);
    const double nineteen = rate(Stencil::nineteen_points, true, unused);
    const double nineteen_rigid = rate(Stencil::nineteen_points, false, unused);
    std::printf(
        "{\"seven\": %g, \"seven_rigid\": %g, \"nineteen\": %g, \"nineteen_rigid\": %g, "
        "\"bytes\": %g}\n",
        seven, seven_rigid, nineteen, nineteen_rigid, bytes);
}
