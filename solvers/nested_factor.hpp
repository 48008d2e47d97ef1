#pragma once
#include <Eigen/Core>
#include <array>
#include <functional>
#include <memory>
#include <vector>

#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

/// The order in which the unknowns of an element mesh are eliminated: halves of halves of it, each
/// cut where the fewest unknowns are shared (nested dissection: George, SIAM J. Numer. Anal. 10,
/// 1973). Made once a mesh, since it knows the elements' unknowns alone.
class NestedOrder {
  public:
    /// `unknown`: of each element; `centre`: of each element, three coordinates.
    NestedOrder(int unknowns, std::vector<std::vector<int>> unknown,
                const std::vector<std::array<double, 3>>& centre);

    /// A set of elements: its `own` unknowns touch no other element, its `rim` is shared.
    struct Part {
        int first = -1, second = -1;  ///< the halves, or -1
        int element = -1;             ///< of a part that is one element
        std::vector<int> own, rim;
        /// Neighbours in a half's rim that are neighbours in own + rim too.
        struct Run {
            int from, to, count;
        };
        std::vector<Run> first_runs, second_runs;
        std::vector<int> element_place;  ///< of the element's unknowns in own + rim
    };
    const std::vector<Part>& parts() const { return part_; }  ///< halves before their whole
    int unknowns() const { return unknowns_; }

  private:
    int divide(std::vector<int>& elements, const std::vector<std::array<double, 3>>& centre);
    void set_places(Part& part, std::vector<int>& place) const;
    int unknowns_;
    std::vector<std::vector<int>> unknown_;
    std::vector<Part> part_;
};

/// A complex symmetric (not Hermitian) matrix, given by its elements, ready to solve with: the
/// multifrontal method (Duff & Reid, ACM Trans. Math. Softw. 9, 1983), dense fronts by
/// SymmetricElimination. In single precision it is twice as quick and true to some 1e-5, which is
/// enough for functions that are to span others. A front whose own part is singular, which takes a
/// frequency exactly at a resonance of a part of the room held silent all round, shows in the
/// residual.
///
/// Why not a package: Debian's permissive ones are SuperLU, which knows no symmetric matrices and
/// has no elements, and MUMPS (CeCILL-C), which brings MPI and half a dozen libraries, keeps state
/// between threads and does not run in a browser. The mesh tells the order here, so what is left of
/// a sparse solver is dense algebra.
template <typename Real>
class NestedFactor {
  public:
    using ElementMatrix = std::function<Eigen::MatrixXcd(int element)>;
    NestedFactor(std::shared_ptr<const NestedOrder> order, const ElementMatrix& matrix);

    /// One column a right-hand side.
    Eigen::MatrixXcd solve(const Eigen::MatrixXcd& right) const;

  private:
    std::shared_ptr<const NestedOrder> order_;
    std::vector<SymmetricElimination<Real>> front_;
};

extern template class NestedFactor<float>;
extern template class NestedFactor<double>;

}  // namespace boxroom
