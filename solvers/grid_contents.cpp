#include "solvers/grid_contents.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {

GridContents grid_contents(const Contents& contents, double volume, const Air& air,
                           double time_step) {
    GridContents g;
    if (contents.empty()) return g;
    const double t = time_step, full = air.speed_of_sound * contents.area / (8 * volume);
    if (contents.q <= 0) {
        g.rate = full;
        g.last = 1 / (1 + full * t);
        g.drive = g.next = full * t / (1 + full * t);
        return g;
    }
    const double own = 2 * std::numbers::pi * contents.frequency, width = own / contents.q;
    g.own_square = own * own;
    g.inertia = 2 * full * width;
    const double scale = 1 / (1 + width * t / 2);
    g.last = (2 - g.own_square * t * t) * scale;
    g.before = -(1 - width * t / 2) * scale;
    g.drive = g.inertia * t * t * scale;
    return g;
}

double shorter_by_contents(const Contents& contents, double volume, const Air& air,
                           double time_step) {
    const GridContents g = grid_contents(contents, volume, air, time_step);
    if (g.inertia <= 0) return 1;
    const double quarter = time_step * time_step / 4;
    return std::sqrt(
        std::max(0.05, 1 - g.inertia * quarter / std::max(0.05, 1 - g.own_square * quarter)));
}

}  // namespace boxroom
