#pragma once
#include <Eigen/Core>
#include <complex>

namespace boxroom {

template <typename Real>
using ComplexMatrix = Eigen::Matrix<std::complex<Real>, Eigen::Dynamic, Eigen::Dynamic>;

/// A dense complex matrix as two real ones, of real and of imaginary parts, so that products go
/// through it by whole vectors. Rows are made up to a multiple of `step`, which whoever fills a
/// plane need not set: what becomes of them is never read.
template <typename Real>
class ComplexPlanes {
  public:
    static constexpr Eigen::Index step = 8;
    using Plane = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
    Plane re, im;

    ComplexPlanes() = default;
    /// Not set.
    ComplexPlanes(Eigen::Index rows, Eigen::Index columns)
        : re(apart(rows), columns), im(apart(rows), columns), rows_(rows) {}

    static ComplexPlanes zero(Eigen::Index rows, Eigen::Index columns) {
        ComplexPlanes all(rows, columns);
        all.re.setZero(), all.im.setZero();
        return all;
    }

    Eigen::Index rows() const { return rows_; }
    Eigen::Index columns() const { return re.cols(); }
    /// With those that make them up.
    Eigen::Index whole_rows() const { return (rows_ + step - 1) / step * step; }
    /// From a column to the next.
    Eigen::Index stride() const { return re.rows(); }

    std::complex<Real> operator()(Eigen::Index row, Eigen::Index column) const {
        return {re(row, column), im(row, column)};
    }

  private:
    /// Columns that are apart by a power of two fall on the same few places of a cache.
    static Eigen::Index apart(Eigen::Index rows) {
        const Eigen::Index whole = (rows + 2 * step - 1) / (2 * step) * (2 * step);
        return whole > 0 && whole % 256 == 0 ? whole + 2 * step : whole;
    }
    Eigen::Index rows_ = 0;
};

/// A symmetric matrix of which the lower half is given.
template <typename Real>
ComplexMatrix<Real> whole_symmetric(const ComplexPlanes<Real>& lower) {
    ComplexMatrix<Real> all(lower.rows(), lower.rows());
    for (Eigen::Index k = 0; k < all.cols(); ++k)
        for (Eigen::Index i = k; i < all.rows(); ++i) all(i, k) = all(k, i) = lower(i, k);
    return all;
}

/// Columns become rows: right-hand sides lie beside each other, as an elimination solves them.
template <typename Real, typename Matrix>
ComplexPlanes<Real> planes_across(const Matrix& x) {
    auto across = ComplexPlanes<Real>::zero(x.cols(), x.rows());
    for (Eigen::Index i = 0; i < x.rows(); ++i)
        for (Eigen::Index s = 0; s < x.cols(); ++s) {
            const std::complex<double> one = x(i, s);
            across.re(s, i) = static_cast<Real>(one.real());
            across.im(s, i) = static_cast<Real>(one.imag());
        }
    return across;
}
template <typename Real>
Eigen::MatrixXcd numbers_across(const ComplexPlanes<Real>& x) {
    Eigen::MatrixXcd across(x.columns(), x.rows());
    for (Eigen::Index i = 0; i < across.rows(); ++i)
        for (Eigen::Index s = 0; s < across.cols(); ++s)
            across(i, s) = std::complex<double>(x(s, i));
    return across;
}

}  // namespace boxroom
