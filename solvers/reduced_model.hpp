#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/element_matrices.hpp"
#include "solvers/summed_systems.hpp"

namespace boxroom {

/// A room's operator seen by a few functions V that span its fields: V^T A V with A as in
/// OperatorScales. Every part of it is real and symmetric, K and M without negative and each B_s
/// with no negative eigenvalues, so that it is as reciprocal and as passive as the room. Needs
/// nothing of the elements: this is what can travel.
struct ReducedModel {
    Eigen::MatrixXd stiffness_room, stiffness_elsewhere, mass;
    std::vector<Eigen::MatrixXd> wall;  ///< of each surface; empty where the air touches none

    Eigen::Index size() const { return mass.rows(); }
    /// A with its lower half alone set.
    ComplexPlanes<double> lower_half(const OperatorScales& scales) const;
    /// A x, each column with scales of its own.
    Eigen::MatrixXcd times(std::span<const OperatorScales> scales, const Eigen::MatrixXcd& x) const;
    /// Fields (coefficients of the functions) for loads, one column each; at as many frequencies as
    /// there are scales, best a few at a time.
    std::vector<Eigen::MatrixXcd> solve(std::span<const OperatorScales> scales,
                                        const Eigen::MatrixXd& load) const;

  private:
    SummedSystems systems(std::span<const OperatorScales> scales) const;
};

/// The same operator for these walls alone, with less to add up: those of one kind are one part,
/// that of the first, and the parts of the others are empty.
ReducedModel with_equal_walls_as_one(ReducedModel model, const std::vector<Wall>& walls);

}  // namespace boxroom
