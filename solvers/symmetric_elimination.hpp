#pragma once
#include <Eigen/Core>
#include <complex>

#include "solvers/symmetric_update.hpp"

namespace boxroom {

/// The first unknowns of a dense complex symmetric (not Hermitian) matrix eliminated from it:
/// A = L D L^T with D of small blocks, whose own rows are exchanged for stability (Duff & Reid,
/// ACM Trans. Math. Softw. 9, 1983, for fronts; recursive columns: Toledo, SIAM J. Matrix Anal.
/// Appl. 18, 1997). Half the work of L U, nearly all of it in products of matrices.
template <typename Real>
class SymmetricElimination {
  public:
    using Matrix = ComplexMatrix<Real>;

    SymmetricElimination() = default;
    /// Reads the lower half of `a`, n x n, and leaves what remains for the unknowns from `own` on
    /// in the lower half of its lower right corner. The rest of `a` is spoilt.
    SymmetricElimination(Matrix& a, Eigen::Index own);

    Eigen::Index own() const { return lower_.cols(); }
    /// x, n rows: the rows from own on are left with what they lack of the first.
    void forwards(Eigen::Ref<Matrix> x) const;
    /// ... whose later rows are solved by now: solves the first.
    void backwards(Eigen::Ref<Matrix> x) const;

  private:
    void columns(Matrix& a, Eigen::Index from, Eigen::Index to);
    Matrix lower_;  ///< n x own: L, with the inverses of D's blocks in place of its units
};

extern template class SymmetricElimination<float>;
extern template class SymmetricElimination<double>;

}  // namespace boxroom
