#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/element_matrices.hpp"
#include "solvers/function_blocks.hpp"

namespace boxroom {

/// How much of a load the functions of a basis leave over, the residual |load - A V y| beside the
/// field |V y| [1/m2], by the air about each unknown. It is large where they lack what the room
/// does: there a full solution has most to tell (weak greedy choice: Quarteroni, Manzoni & Negri,
/// Reduced Basis Methods, 2016, ch. 7).
///
/// Told by sums of the residual with random signs, whose mean square is its own (Johnson &
/// Lindenstrauss; for reduced models Balabanov & Nouy, Adv. Comput. Math. 45, 2019): within 15 %
/// two times of three, which is enough to choose by. The sums of A V are worked out once a
/// function, so that a frequency costs no more than its reduced solution. The signs are the same
/// every time.
class LeftOver {
  public:
    /// `air` about each unknown [m3].
    LeftOver(const ElementMatrices& matrices, const Eigen::VectorXd& air);

    /// Takes over the functions that it does not have yet, orthonormal by the air.
    void follow(const ElementMatrices& matrices, const FunctionBlocks& functions);
    /// The sums of a load, (unknowns).
    Eigen::VectorXd sums(const Eigen::VectorXd& load) const { return signs_.times(load); }
    /// Beside a field, (functions), of a load with these sums.
    double share(const OperatorScales& scales, const Eigen::VectorXd& sums_of_load,
                 const Eigen::VectorXcd& field) const;

  private:
    FunctionBlocks signs_;  ///< one a sum, over the root of the air
    /// Sums of every part of A V, (sums, functions), as ElementMatrices::between orders them.
    std::vector<Eigen::MatrixXd> part_;
    Eigen::Index functions_ = 0;
};

/// The two frequencies that leave most over, 10 % or more apart; the lower first.
std::vector<double> worst_two(std::span<const double> frequency, std::span<const double> left);

}  // namespace boxroom
