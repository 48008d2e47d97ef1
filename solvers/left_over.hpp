#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/element_matrices.hpp"
#include "solvers/reduced_basis.hpp"

namespace boxroom {

/// Reduced solutions of one load, and what was asked of them.
struct ReducedFields {
    std::span<const double> frequency;       ///< [Hz]
    std::span<const OperatorScales> scales;  ///< of each frequency
    Eigen::VectorXd load;                    ///< unknowns
    Eigen::MatrixXcd field;                  ///< functions x frequencies
};

/// How much of the load a basis leaves over at each frequency, the residual |load - A V y| beside
/// the field |V y| [1/m2], by the basis' air about each unknown. It is large where the basis lacks
/// what the room does: there a full solution has most to tell (weak greedy choice: Quarteroni,
/// Manzoni & Negri, Reduced Basis Methods, 2016, ch. 7).
std::vector<double> left_over(const ElementMatrices& matrices, const ReducedBasis& basis,
                              const ReducedFields& fields);

/// The two frequencies that leave most over, 10 % or more apart; the lower first.
std::vector<double> worst_two(std::span<const double> frequency, std::span<const double> left);

}  // namespace boxroom
