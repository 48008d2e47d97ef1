#pragma once
#include <Eigen/Core>

#include "solvers/element_mesh.hpp"

namespace boxroom {

/// Position in a cell, bilinear in the two coordinates, with its derivatives.
struct Mapped {
    double x = 0, y = 0;
    Eigen::Matrix2d slope;  ///< rows x, y; columns xi, eta
};
Mapped map_to(const Footprint& footprint, const FootprintCell& cell, double xi, double eta);

}  // namespace boxroom
