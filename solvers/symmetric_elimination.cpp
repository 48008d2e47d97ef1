#include "solvers/symmetric_elimination.hpp"

#include <algorithm>

#include "solvers/dense_algebra.hpp"

namespace boxroom {

namespace {
constexpr Eigen::Index block = 16;
}

template <typename Real>
SymmetricElimination<Real>::SymmetricElimination(Matrix& a, Eigen::Index own)
    : lower_(a.rows(), own) {
    if (own == 0) return;
    columns(a, 0, own);
    const Eigen::Index rest = a.rows() - own;
    if (rest == 0) return;
    a.bottomRightCorner(rest, rest).template triangularView<Eigen::Lower>() -=
        a.bottomLeftCorner(rest, own) * lower_.bottomRows(rest).transpose();
}

/// Columns that those before them have been taken from already. Here `a` keeps L D.
template <typename Real>
void SymmetricElimination<Real>::columns(Matrix& a, Eigen::Index from, Eigen::Index to) {
    const Eigen::Index count = to - from, below = a.rows() - to;
    if (count <= block) {
        Matrix d = a.block(from, from, count, count);
        d.template triangularView<Eigen::StrictlyUpper>() = d.transpose();
        const Matrix inverse =
            inverted(d.template cast<std::complex<double>>()).template cast<std::complex<Real>>();
        lower_.block(from, from, count, count) = inverse;
        lower_.block(to, from, below, count).noalias() = a.block(to, from, below, count) * inverse;
        return;
    }
    const Eigen::Index half = from + (count / 2 + block - 1) / block * block;
    columns(a, from, half);
    a.block(half, half, a.rows() - half, to - half).noalias() -=
        a.block(half, from, a.rows() - half, half - from) *
        lower_.block(half, from, to - half, half - from).transpose();
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
