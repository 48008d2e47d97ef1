#include "solvers/symmetric_update.hpp"

#include <algorithm>
#include <stdexcept>

#include "solvers/product_vectors.hpp"

namespace boxroom {

using Eigen::Index;

namespace {

constexpr Index plane_step = 16;  ///< rows of a plane are a multiple of these

/// Real and imaginary parts apart, rows beside each other, with zeros behind the last.
template <typename Real>
struct Planes {
    explicit Planes(const ConstComplexBlock<Real>& m)
        : rows((m.rows() + plane_step - 1) / plane_step * plane_step),
          re(rows, m.cols()),
          im(rows, m.cols()) {
        for (Index n = 0; n < m.cols(); ++n) {
            const auto* from = reinterpret_cast<const Real*>(m.col(n).data());
            Real *to_re = re.col(n).data(), *to_im = im.col(n).data();
            for (Index i = 0; i < m.rows(); ++i) to_re[i] = from[2 * i], to_im[i] = from[2 * i + 1];
            for (Index i = m.rows(); i < rows; ++i) to_re[i] = to_im[i] = 0;
        }
    }
    Index rows;
    Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic> re, im;
};

void multiply(const ProductVectors& by, const ComplexProduct<float>& product) {
    by.product(product);
}
void multiply(const ProductVectors& by, const ComplexProduct<double>& product) {
    by.product_of_doubles(product);
}

template <typename Real>
void require_sizes(const ComplexBlock<Real>& a, const ConstComplexBlock<Real>& l,
                   const ConstComplexBlock<Real>& r) {
    if (a.rows() != l.rows() || a.cols() != r.rows() || l.cols() != r.cols() || a.rows() < a.cols())
        throw std::length_error("a product of other sizes than what it is taken from");
}

}  // namespace

template <typename Real>
void subtract_below_diagonal(ComplexBlock<Real> a, const ConstComplexBlock<Real>& l,
                             const ConstComplexBlock<Real>& r) {
#ifdef EIGEN_VECTORIZE_AVX512
    require_sizes<Real>(a, l, r);
    if (a.rows() == a.cols())
        a.template triangularView<Eigen::Lower>() -= l * r.transpose();
    else
        a.noalias() -= l * r.transpose();
#else
    subtract_in_planes<Real>(a, l, r);
#endif
}

template <typename Real>
void subtract_in_planes(ComplexBlock<Real> a, const ConstComplexBlock<Real>& l,
                        const ConstComplexBlock<Real>& r, VectorSet set) {
    require_sizes<Real>(a, l, r);
    const ProductVectors& by = product_vectors(set);
    const Planes<Real> left(l), right(r);
    constexpr Index some_rows = 128, some_columns = 32;  // what a core keeps near
    Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic> re(some_rows, some_columns),
        im(some_rows, some_columns);
    for (Index row = 0; row < a.rows(); row += some_rows) {
        const Index end = std::min(row + some_rows, a.rows());
        for (Index column = 0; column < std::min(end, a.cols()); column += some_columns) {
            const Index columns = std::min(some_columns, a.cols() - column),
                        first = std::max(row, column / plane_step * plane_step),
                        wide = std::min(row + some_rows, left.rows) - first;
            multiply(by, ComplexProduct<Real>{static_cast<int>(columns), static_cast<int>(l.cols()),
                                              static_cast<int>(wide), &right.re(column, 0),
                                              &right.im(column, 0), 1, static_cast<int>(right.rows),
                                              &left.re(first, 0), &left.im(first, 0),
                                              static_cast<int>(left.rows), re.data(), im.data(),
                                              static_cast<int>(some_rows)});
            for (Index n = column; n < column + columns; ++n) {
                auto* __restrict to = reinterpret_cast<Real*>(a.col(n).data());
                const Real* __restrict from_re = &re(0, n - column);
                const Real* __restrict from_im = &im(0, n - column);
                for (Index i = std::max(first, n); i < end; ++i) {
                    to[2 * i] -= from_re[i - first];
                    to[2 * i + 1] -= from_im[i - first];
                }
            }
        }
    }
}

template void subtract_below_diagonal<float>(ComplexBlock<float>, const ConstComplexBlock<float>&,
                                             const ConstComplexBlock<float>&);
template void subtract_below_diagonal<double>(ComplexBlock<double>,
                                              const ConstComplexBlock<double>&,
                                              const ConstComplexBlock<double>&);
template void subtract_in_planes<float>(ComplexBlock<float>, const ConstComplexBlock<float>&,
                                        const ConstComplexBlock<float>&, VectorSet);
template void subtract_in_planes<double>(ComplexBlock<double>, const ConstComplexBlock<double>&,
                                         const ConstComplexBlock<double>&, VectorSet);

}  // namespace boxroom
