#pragma once
#include <Eigen/Core>

#include "solvers/symmetric_update.hpp"

namespace boxroom {

/// The first unknowns of a dense complex symmetric (not Hermitian) matrix eliminated from it:
/// A = L D L^T with D of small blocks, whose own rows are exchanged for stability (Duff & Reid,
/// ACM Trans. Math. Softw. 9, 1983, for fronts; recursive columns: Toledo, SIAM J. Matrix Anal.
/// Appl. 18, 1997). Half the work of L U, nearly all of it in products of matrices, which go by the
/// vectors that the processor has, whatever the program was compiled for.
template <typename Real>
class SymmetricElimination {
  public:
    SymmetricElimination() = default;
    /// Reads the lower half of `a`, n x n, and leaves what remains for the unknowns from `own` on
    /// in the lower half of its lower right corner. The rest of `a` is spoilt. Throws
    /// std::length_error where it is not square or has fewer than `own`.
    SymmetricElimination(ComplexPlanes<Real>& a, Eigen::Index own);

    Eigen::Index own() const { return lower_.columns(); }
    /// x: one column an unknown, all n; one row a right-hand side. The columns from own on are left
    /// with what they lack of the first. Both throw std::length_error for another number of
    /// columns.
    void forwards(ComplexPlanes<Real>& x) const;
    /// ... whose later columns are solved by now: solves the first.
    void backwards(ComplexPlanes<Real>& x) const;

    /// Where all are eliminated: a^-1 right, one column a right-hand side. Throws
    /// std::length_error where some are not, or where it has another number of rows.
    Eigen::MatrixXcd solved(const Eigen::MatrixXcd& right) const;

  private:
    void columns(ComplexPlanes<Real>& a, Columns some);
    Eigen::VectorXcd solved_alone(const Eigen::VectorXcd& right) const;
    ComplexPlanes<Real> lower_;  ///< n x own: L, with the inverses of D's blocks in place of units
};

extern template class SymmetricElimination<float>;
extern template class SymmetricElimination<double>;

}  // namespace boxroom
