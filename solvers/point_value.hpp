#pragma once
#include <vector>

#include "solvers/element_mesh.hpp"

namespace boxroom {

/// A place in the air: the unknowns that make its pressure, with their shares.
struct PointValue {
    std::vector<int> unknown;
    std::vector<double> share;
};

/// Throws Error for a point that is not in the air of the room itself.
PointValue point_value(const ElementMesh& mesh, const Point& p);

}  // namespace boxroom
