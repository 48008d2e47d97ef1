#pragma once
#include <Eigen/Core>
#include <memory>
#include <span>

#include "solvers/element_matrices.hpp"
#include "solvers/nested_factor.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Any room by elements, one factor a frequency: the full solution, which the reduced basis is made
/// of and checked against.
class ElementSolver {
  public:
    ElementSolver(const Room& room, const Air& air, const MeshOptions& options);

    const ElementMatrices& matrices() const { return matrices_; }
    int unknowns() const { return matrices_.mesh().unknowns; }

    /// What A(f) is made of, for the room that was given or one of the same shape with other walls
    /// and contents; and its factors.
    OperatorScales scales(double frequency, const Room& room) const {
        return operator_scales(room, air_, frequency);
    }
    template <typename Real>
    NestedFactor<Real> factor(double frequency, const Room& room) const;
    /// One column a point: what its pressure is of the unknowns; also the load of a point source.
    Eigen::MatrixXd point_values(std::span<const Point> points) const;

    /// Z = j w rho phi(receiver)^T A^-1 phi(source).
    TransferImpedance<double> transfer(std::span<const double> frequency,
                                       std::span<const Point> sources,
                                       std::span<const Point> receivers) const;

  private:
    Room room_;
    Air air_;
    ElementMatrices matrices_;
    std::shared_ptr<const NestedOrder> order_;
};

}  // namespace boxroom
