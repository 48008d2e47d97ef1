#include "solvers/symmetric_elimination.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "solvers/plane_products.hpp"

namespace boxroom {

using Eigen::Index;

namespace {

constexpr Index block = 16;

/// The inverse of a block on the diagonal, of which the lower half is given: Gauss and Jordan's
/// elimination in place with exchanges (Higham, Accuracy and Stability of Numerical Algorithms,
/// 2002, sec. 14.4), by columns, since the block is symmetric. Of one width and in two planes, so
/// that it is vectors throughout: a front has many such blocks, and a general inverse of so small a
/// matrix takes ten times as long.
class BlockInverse {
  public:
    template <typename Real>
    BlockInverse(const ComplexPlanes<Real>& a, Columns own) : count_(own.last - own.first) {
        re_.setZero(), im_.setZero();
        for (Index k = 0; k < count_; ++k)
            for (Index i = k; i < count_; ++i) {
                re_(i, k) = re_(k, i) = a.re(own.first + i, own.first + k);
                im_(i, k) = im_(k, i) = a.im(own.first + i, own.first + k);
            }
        std::array<Index, block> from{};
        for (Index k = 0; k < count_; ++k) {
            from[k] = largest_from(k);
            re_.col(k).swap(re_.col(from[k])), im_.col(k).swap(im_.col(from[k]));
            eliminate(k);
        }
        for (Index k = count_; k-- > 0;)
            re_.row(k).swap(re_.row(from[k])), im_.row(k).swap(im_.row(from[k]));
    }
    template <typename Real>
    ComplexPlanes<Real> as() const {
        ComplexPlanes<Real> m(count_, count_);
        m.re.topRows(count_) = re_.topLeftCorner(count_, count_).matrix().cast<Real>();
        m.im.topRows(count_) = im_.topLeftCorner(count_, count_).matrix().cast<Real>();
        return m;
    }

  private:
    using Plane = Eigen::Array<double, block, block>;

    Index largest_from(Index k) const {
        const auto size = [&](Index i) { return re_(k, i) * re_(k, i) + im_(k, i) * im_(k, i); };
        Index largest = k;
        for (Index i = k + 1; i < count_; ++i)
            if (size(i) > size(largest)) largest = i;
        return largest;
    }
    void eliminate(Index k) {
        const std::complex<double> by = 1.0 / std::complex<double>(re_(k, k), im_(k, k));
        const Eigen::Array<double, block, 1> re = re_.col(k) * by.real() - im_.col(k) * by.imag(),
                                             im = re_.col(k) * by.imag() + im_.col(k) * by.real();
        for (Index i = 0; i < count_; ++i) {
            if (i == k) continue;
            const double x = re_(k, i), y = im_(k, i);
            re_.col(i) -= x * re - y * im;
            im_.col(i) -= x * im + y * re;
            re_(k, i) = y * by.imag() - x * by.real();
            im_(k, i) = -(x * by.imag() + y * by.real());
        }
        re_.col(k) = re, im_.col(k) = im;
        re_(k, k) = by.real(), im_(k, k) = by.imag();
    }
    Index count_;
    Plane re_, im_;
};

template <typename Real>
void require_columns(const ComplexPlanes<Real>& x, Index unknowns) {
    if (x.columns() != unknowns)
        throw std::length_error("right-hand sides of another number of unknowns");
}

}  // namespace

template <typename Real>
SymmetricElimination<Real>::SymmetricElimination(ComplexPlanes<Real>& a, Index own)
    : lower_(a.rows(), own) {
    if (a.columns() != a.rows() || own > a.rows())
        throw std::length_error("an elimination from a matrix that is not square, or of too many");
    if (own == 0) return;
    columns(a, {0, own});
    if (own < a.rows()) subtract_below_diagonal(a, lower_, {own, a.rows()}, {0, own});
}

/// Columns that those before them have been taken from already. Here `a` keeps L D.
template <typename Real>
void SymmetricElimination<Real>::columns(ComplexPlanes<Real>& a, Columns some) {
    const auto [first, last] = some;
    const Index count = last - first;
    if (count <= block) {
        const auto inverse = BlockInverse(a, some).template as<Real>();
        // From a whole vector on; what this writes above the rows below, the inverse replaces.
        const Index below = last / ComplexPlanes<Real>::step * ComplexPlanes<Real>::step;
        if (last < a.rows())
            multiply(
                product_vectors(),
                ComplexProduct<Real>{static_cast<int>(count), static_cast<int>(count),
                                     static_cast<int>(a.whole_rows() - below), inverse.re.data(),
                                     inverse.im.data(), 1, static_cast<int>(inverse.stride()),
                                     &a.re(below, first), &a.im(below, first),
                                     static_cast<int>(a.stride()), &lower_.re(below, first),
                                     &lower_.im(below, first), static_cast<int>(lower_.stride())});
        lower_.re.block(first, first, count, count) = inverse.re.topRows(count);
        lower_.im.block(first, first, count, count) = inverse.im.topRows(count);
        return;
    }
    const Index half = first + (count / 2 + block - 1) / block * block;
    columns(a, {first, half});
    subtract_below_diagonal(a, lower_, {half, last}, {first, half});
    columns(a, {half, last});
}

template <typename Real>
void SymmetricElimination<Real>::forwards(ComplexPlanes<Real>& x) const {
    require_columns(x, lower_.rows());
    const Index count = own();
    const int step = static_cast<int>(x.stride()), wide = static_cast<int>(x.whole_rows()),
              down = static_cast<int>(lower_.stride());
    const ProductVectors& by = product_vectors();
    for (Index from = 0; from < count; from += block) {
        const Index to = std::min(from + block, count);
        if (to < x.columns())
            subtract(by, ComplexProduct<Real>{
                             static_cast<int>(x.columns() - to), static_cast<int>(to - from), wide,
                             &lower_.re(to, from), &lower_.im(to, from), 1, down, &x.re(0, from),
                             &x.im(0, from), step, &x.re(0, to), &x.im(0, to), step});
    }
    ComplexPlanes<Real> some(x.rows(), block);
    for (Index from = 0; from < count; from += block) {
        const Index size = std::min(block, count - from);
        some.re.topRows(wide).leftCols(size) = x.re.block(0, from, wide, size);
        some.im.topRows(wide).leftCols(size) = x.im.block(0, from, wide, size);
        multiply(by, ComplexProduct<Real>{static_cast<int>(size), static_cast<int>(size), wide,
                                          &lower_.re(from, from), &lower_.im(from, from), 1, down,
                                          some.re.data(), some.im.data(),
                                          static_cast<int>(some.stride()), &x.re(0, from),
                                          &x.im(0, from), step});
    }
}

template <typename Real>
void SymmetricElimination<Real>::backwards(ComplexPlanes<Real>& x) const {
    require_columns(x, lower_.rows());
    const int step = static_cast<int>(x.stride()), wide = static_cast<int>(x.whole_rows()),
              down = static_cast<int>(lower_.stride());
    for (Index from = (own() + block - 1) / block * block - block; from >= 0; from -= block) {
        const Index to = std::min(from + block, own());
        if (to < x.columns())
            subtract(product_vectors(),
                     ComplexProduct<Real>{
                         static_cast<int>(to - from), static_cast<int>(x.columns() - to), wide,
                         &lower_.re(to, from), &lower_.im(to, from), down, 1, &x.re(0, to),
                         &x.im(0, to), step, &x.re(0, from), &x.im(0, from), step});
    }
}

/// One right-hand side, of which vectors that lie across would be empty but for one number.
template <typename Real>
Eigen::VectorXcd SymmetricElimination<Real>::solved_alone(const Eigen::VectorXcd& right) const {
    using Vector = Eigen::Matrix<Real, Eigen::Dynamic, 1>;
    const Index count = own();
    Vector re = right.real().cast<Real>(), im = right.imag().cast<Real>();
    for (Index from = 0; from < count; from += block) {
        const Index size = std::min(block, count - from), below = count - from - size;
        const auto u = lower_.re.block(from + size, from, below, size),
                   v = lower_.im.block(from + size, from, below, size);
        const auto x = re.segment(from, size), y = im.segment(from, size);
        re.segment(from + size, below).noalias() -= u * x;
        re.segment(from + size, below).noalias() += v * y;
        im.segment(from + size, below).noalias() -= u * y;
        im.segment(from + size, below).noalias() -= v * x;
    }
    for (Index from = (count + block - 1) / block * block - block; from >= 0; from -= block) {
        const Index size = std::min(block, count - from), below = count - from - size;
        const auto d = lower_.re.block(from, from, size, size),
                   e = lower_.im.block(from, from, size, size);
        const auto u = lower_.re.block(from + size, from, below, size),
                   v = lower_.im.block(from + size, from, below, size);
        const Vector x = re.segment(from, size), y = im.segment(from, size);
        const auto later = re.segment(from + size, below),
                   imaginary = im.segment(from + size, below);
        re.segment(from, size) =
            d * x - e * y - (u.transpose() * later - v.transpose() * imaginary);
        im.segment(from, size) =
            d * y + e * x - (u.transpose() * imaginary + v.transpose() * later);
    }
    Eigen::VectorXcd solved(count);
    solved.real() = re.template cast<double>();
    solved.imag() = im.template cast<double>();
    return solved;
}

template <typename Real>
Eigen::MatrixXcd SymmetricElimination<Real>::solved(const Eigen::MatrixXcd& right) const {
    if (own() != lower_.rows() || right.rows() != own())
        throw std::length_error("a system of another size, or that is not solved to its end");
    if (right.cols() == 1) return solved_alone(right);
    auto x = planes_across<Real>(right);
    forwards(x);
    backwards(x);
    return numbers_across(x);
}

template class SymmetricElimination<float>;
template class SymmetricElimination<double>;

}  // namespace boxroom
