#include "solvers/symmetric_update.hpp"

#include <algorithm>
#include <stdexcept>

#include "solvers/plane_products.hpp"

namespace boxroom {

using Eigen::Index;

namespace {

// What a core keeps near: rows and terms of L D, then columns that this serves.
constexpr Index some_rows = 128, some_terms = 256, some_columns = 16;

/// Part of a matrix where it lies close together, [term][row].
template <typename Real>
class Near {
  public:
    Near(Index rows, Index terms) : re_(rows, terms), im_(rows, terms) {}
    void copy(const ComplexPlanes<Real>& m, Index row, Index rows, Columns terms) {
        for (Index n = terms.first; n < terms.last; ++n) {
            std::copy_n(&m.re(row, n), rows, &re_(0, n - terms.first));
            std::copy_n(&m.im(row, n), rows, &im_(0, n - terms.first));
        }
    }
    int step() const { return static_cast<int>(re_.rows()); }
    const Real* re(Index row) const { return &re_(row, 0); }
    const Real* im(Index row) const { return &im_(row, 0); }

  private:
    typename ComplexPlanes<Real>::Plane re_, im_;
};

}  // namespace

template <typename Real>
void subtract_below_diagonal(ComplexPlanes<Real>& a, const ComplexPlanes<Real>& l, Columns later,
                             Columns gone, VectorSet set) {
    if (l.rows() != a.rows() || l.columns() < gone.last || a.columns() < later.last ||
        a.rows() < later.last || gone.last > later.first)
        throw std::length_error("a product of other sizes than what it is taken from");
    constexpr Index step = ComplexPlanes<Real>::step;
    const ProductVectors& by = product_vectors(set);
    const Index deep = std::min(some_terms, gone.last - gone.first);
    Near<Real> left(some_rows, deep), right(some_columns, deep);
    for (Columns terms{gone.first, 0}; terms.first < gone.last; terms.first = terms.last) {
        terms.last = std::min(terms.first + some_terms, gone.last);
        for (Index row = later.first / step * step; row < a.rows(); row += some_rows) {
            const Index end = std::min(row + some_rows, a.whole_rows());
            left.copy(a, row, end - row, terms);
            for (Index k = later.first; k < std::min(end, later.last); k += some_columns) {
                const Index count = std::min(some_columns, later.last - k),
                            from = std::max(row, k / step * step);
                right.copy(l, k, count, terms);
                subtract(by, ComplexProduct<Real>{static_cast<int>(count),
                                                  static_cast<int>(terms.last - terms.first),
                                                  static_cast<int>(end - from), right.re(0),
                                                  right.im(0), 1, right.step(), left.re(from - row),
                                                  left.im(from - row), left.step(), &a.re(from, k),
                                                  &a.im(from, k), static_cast<int>(a.stride())});
            }
        }
    }
}

template void subtract_below_diagonal<float>(ComplexPlanes<float>&, const ComplexPlanes<float>&,
                                             Columns, Columns, VectorSet);
template void subtract_below_diagonal<double>(ComplexPlanes<double>&, const ComplexPlanes<double>&,
                                              Columns, Columns, VectorSet);

}  // namespace boxroom
