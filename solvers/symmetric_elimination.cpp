#include "solvers/symmetric_elimination.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace boxroom {

namespace {

constexpr Eigen::Index block = 16;

/// The inverse of a block on the diagonal, of which the lower half is given: Gauss and Jordan's
/// elimination in place with exchanges (Higham, Accuracy and Stability of Numerical Algorithms,
/// 2002, sec. 14.4), by columns, since the block is symmetric. Of one width and in two planes, so
/// that it is vectors throughout: a front has many such blocks, and a general inverse of so small a
/// matrix takes ten times as long.
class BlockInverse {
  public:
    template <typename Block>
    explicit BlockInverse(const Block& lower) : count_(lower.rows()) {
        re_.setZero(), im_.setZero();
        for (Eigen::Index k = 0; k < count_; ++k)
            for (Eigen::Index i = k; i < count_; ++i) {
                re_(i, k) = re_(k, i) = lower(i, k).real();
                im_(i, k) = im_(k, i) = lower(i, k).imag();
            }
        std::array<Eigen::Index, block> from{};
        for (Eigen::Index k = 0; k < count_; ++k) {
            from[k] = largest_from(k);
            re_.col(k).swap(re_.col(from[k])), im_.col(k).swap(im_.col(from[k]));
            eliminate(k);
        }
        for (Eigen::Index k = count_; k-- > 0;)
            re_.row(k).swap(re_.row(from[k])), im_.row(k).swap(im_.row(from[k]));
    }
    template <typename Real>
    Eigen::Matrix<std::complex<Real>, Eigen::Dynamic, Eigen::Dynamic> as() const {
        Eigen::Matrix<std::complex<Real>, Eigen::Dynamic, Eigen::Dynamic> m(count_, count_);
        for (Eigen::Index k = 0; k < count_; ++k)
            for (Eigen::Index i = 0; i < count_; ++i)
                m(i, k) = {static_cast<Real>(re_(i, k)), static_cast<Real>(im_(i, k))};
        return m;
    }

  private:
    using Plane = Eigen::Array<double, block, block>;

    Eigen::Index largest_from(Eigen::Index k) const {
        const auto size = [&](Eigen::Index i) {
            return re_(k, i) * re_(k, i) + im_(k, i) * im_(k, i);
        };
        Eigen::Index largest = k;
        for (Eigen::Index i = k + 1; i < count_; ++i)
            if (size(i) > size(largest)) largest = i;
        return largest;
    }
    void eliminate(Eigen::Index k) {
        const std::complex<double> by = 1.0 / std::complex<double>(re_(k, k), im_(k, k));
        const Eigen::Array<double, block, 1> re = re_.col(k) * by.real() - im_.col(k) * by.imag(),
                                             im = re_.col(k) * by.imag() + im_.col(k) * by.real();
        for (Eigen::Index i = 0; i < count_; ++i) {
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
    Eigen::Index count_;
    Plane re_, im_;
};

}  // namespace

template <typename Real>
SymmetricElimination<Real>::SymmetricElimination(Matrix& a, Eigen::Index own)
    : lower_(a.rows(), own) {
    if (own == 0) return;
    columns(a, 0, own);
    const Eigen::Index rest = a.rows() - own;
    if (rest == 0) return;
    subtract_below_diagonal<Real>(a.bottomRightCorner(rest, rest), a.bottomLeftCorner(rest, own),
                                  lower_.bottomRows(rest));
}

/// Columns that those before them have been taken from already. Here `a` keeps L D.
template <typename Real>
void SymmetricElimination<Real>::columns(Matrix& a, Eigen::Index from, Eigen::Index to) {
    const Eigen::Index count = to - from, below = a.rows() - to;
    if (count <= block) {
        const Matrix inverse = BlockInverse(a.block(from, from, count, count)).template as<Real>();
        lower_.block(from, from, count, count) = inverse;
        lower_.block(to, from, below, count).noalias() = a.block(to, from, below, count) * inverse;
        return;
    }
    const Eigen::Index half = from + (count / 2 + block - 1) / block * block;
    columns(a, from, half);
    subtract_below_diagonal<Real>(a.block(half, half, a.rows() - half, to - half),
                                  a.block(half, from, a.rows() - half, half - from),
                                  lower_.block(half, from, to - half, half - from));
    columns(a, half, to);
}

template <typename Real>
void SymmetricElimination<Real>::forwards(Eigen::Ref<Matrix> x) const {
    const Eigen::Index count = own(), rest = x.rows() - count;
    for (Eigen::Index from = 0; from < count; from += block) {
        const Eigen::Index to = std::min(from + block, count);
        x.middleRows(to, count - to).noalias() -=
            lower_.block(to, from, count - to, to - from) * x.middleRows(from, to - from);
    }
    x.bottomRows(rest).noalias() -= lower_.bottomRows(rest) * x.topRows(count);
    for (Eigen::Index from = 0; from < count; from += block) {
        const Eigen::Index size = std::min(block, count - from);
        x.middleRows(from, size) =
            lower_.block(from, from, size, size) * Matrix(x.middleRows(from, size));
    }
}

template <typename Real>
void SymmetricElimination<Real>::backwards(Eigen::Ref<Matrix> x) const {
    const Eigen::Index count = own(), rest = x.rows() - count;
    x.topRows(count).noalias() -= lower_.bottomRows(rest).transpose() * x.bottomRows(rest);
    for (Eigen::Index from = (count - 1) / block * block; from >= 0; from -= block) {
        const Eigen::Index to = std::min(from + block, count);
        x.middleRows(from, to - from).noalias() -=
            lower_.block(to, from, count - to, to - from).transpose() *
            x.middleRows(to, count - to);
    }
}

template class SymmetricElimination<float>;
template class SymmetricElimination<double>;

}  // namespace boxroom
