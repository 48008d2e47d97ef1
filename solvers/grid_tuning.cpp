#include "solvers/grid_tuning.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {

using std::numbers::pi;

std::vector<GridSurface> tuned_walls(const GridShape& shape, Stencil stencil, const Air& air,
                                     double time_step, double highest) {
    std::vector<GridSurface> surfaces = shape.surfaces;
    for (GridSurface& surface : surfaces)
        for (Branch& b : surface.wall.branches) {
            const double own =
                b.mass > 0 && b.stiffness > 0 ? std::sqrt(b.stiffness / b.mass) / (2 * pi) : 0;
            const double f = own > 0 ? std::clamp(own, highest / 4, highest) : highest / 2;
            const double seen =
                2 / time_step *
                std::tan(grid_omega(shape, stencil, air, time_step, f) * time_step / 2);
            b.mass *= 2 * pi * f / seen;
            b.stiffness *= seen / (2 * pi * f);
        }
    return surfaces;
}

Contents tuned_contents(const GridShape& shape, Stencil stencil, const Air& air, double time_step,
                        double highest) {
    Contents contents = shape.contents;
    const double f = contents.q > 0 ? contents.frequency : highest / 2;
    const double angle = grid_omega(shape, stencil, air, time_step, f) * time_step;
    if (contents.q > 0) {
        contents.frequency = std::sin(angle / 2) / (pi * time_step);
        contents.area *= std::sin(angle) / (time_step * 2 * pi * f);
    } else {
        contents.area *= std::tan(angle / 2) / (time_step * pi * f);
    }
    return contents;
}

}  // namespace boxroom
