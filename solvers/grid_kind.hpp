#pragma once
#include <array>
#include <utility>
#include <vector>

#include "base/air.hpp"
#include "solvers/grid_shape.hpp"
#include "solvers/grid_stencil.hpp"

namespace boxroom {

/// A branch of a wall that has a memory, as a difference equation; see GridField.
template <typename Real>
struct GridBranch {
    Real alpha, beta_mass, beta_spring;  ///< y = alpha (p+ - p-) + beta_mass a - beta_spring b
    Real force;                          ///< rho S/(2T)/(D + kappa)
    double area, mass, stiffness;
};

/// The coefficients with which all nodes of one kind are stepped, D = V/(c T)^2.
template <typename Real>
struct GridKind {
    StencilWeights<Real> stencil;
    bool inner = false, contents = false;
    bool sealed = true;                                 ///< no branch lets air through
    std::vector<std::pair<std::ptrdiff_t, Real>> bare;  ///< links past the contents, on p
    double inverse = 0;                                 ///< 1/(D + kappa)
    double volume = 0;
    std::array<double, 18> link{}, among{};  ///< as in NodeKind
    std::vector<GridBranch<Real>> branches;  ///< those with a memory
};

/// `offset`: from a node to its neighbours in memory, in the order of link_step.
template <typename Real>
GridKind<Real> grid_kind(const NodeKind& from, const GridShape& shape, const Air& air,
                         double time_step, const std::array<std::ptrdiff_t, 18>& offset);

}  // namespace boxroom
