#include "solvers/mode_shape.hpp"

#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

ModeShape::ModeShape(const Room& room, const Air& air, const Mode& mode) {
    check_inside(room, {}, "");
    axis_ = axis_problems(room, air, mode.frequency);
    Complex lambda = 1, sum = 0;
    for (int a = 0; a < 3; ++a) {
        q2_[a] = axis_eigenvalues(axis_[a], mode.order[a] + 1)[mode.order[a]];
        lambda *= axis_norm(axis_[a], q2_[a]);
        sum += q2_[a];
    }
    transfer_ =
        source_factor(room, air, mode.frequency) / (lambda * (sum - axis_[0].k * axis_[0].k));
}

Complex ModeShape::at(const Point& point) const {
    const auto place = coordinates(point);
    Complex psi = 1;
    for (int a = 0; a < 3; ++a) psi *= axis_function(axis_[a], q2_[a], place[a]);
    return psi;
}

}  // namespace boxroom
