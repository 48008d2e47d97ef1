#include "solvers/cell_map.hpp"

namespace boxroom {

Mapped map_to(const Footprint& footprint, const FootprintCell& cell, double xi, double eta) {
    Mapped at;
    at.slope.setZero();
    const double sign_x[4] = {-1, 1, 1, -1}, sign_y[4] = {-1, -1, 1, 1};
    for (int n = 0; n < 4; ++n) {
        const Point& p = footprint.vertex[cell.corner[n]];
        const double a = (1 + sign_x[n] * xi) / 2, b = (1 + sign_y[n] * eta) / 2;
        at.x += a * b * p.x, at.y += a * b * p.y;
        at.slope(0, 0) += sign_x[n] / 2 * b * p.x, at.slope(0, 1) += a * sign_y[n] / 2 * p.x;
        at.slope(1, 0) += sign_x[n] / 2 * b * p.y, at.slope(1, 1) += a * sign_y[n] / 2 * p.y;
    }
    return at;
}

}  // namespace boxroom
