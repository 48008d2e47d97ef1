// Fronts against Eigen's general factor: what remains of a symmetric matrix, and what it solves.
#include "solvers/symmetric_elimination.hpp"

#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <stdexcept>

using namespace boxroom;
using Eigen::Index;
using Eigen::MatrixXcd;

namespace {

/// With next to nothing on its diagonal: no way through it without exchanges.
MatrixXcd symmetric(Index size) {
    MatrixXcd a = MatrixXcd::Random(size, size);
    a = (a + a.transpose()).eval();
    a.diagonal() *= 1e-6;
    return a;
}

template <typename Real>
ComplexPlanes<Real> lower_half(const MatrixXcd& a) {
    auto planes = ComplexPlanes<Real>::zero(a.rows(), a.cols());
    for (Index k = 0; k < a.cols(); ++k)
        for (Index i = k; i < a.rows(); ++i) {
            planes.re(i, k) = static_cast<Real>(a(i, k).real());
            planes.im(i, k) = static_cast<Real>(a(i, k).imag());
        }
    return planes;
}

template <typename Real>
void check(double rounding) {
    for (const auto& [size, own] :
         {std::pair<Index, Index>{1, 1}, {9, 4}, {40, 16}, {61, 37}, {64, 64}, {150, 101}}) {
        INFO(size << ", " << own << " eliminated");
        const MatrixXcd a = symmetric(size), right = MatrixXcd::Random(size, 5);
        auto front = lower_half<Real>(a);
        const SymmetricElimination<Real> gone(front, own);
        const Index rest = size - own;
        const MatrixXcd left = a.bottomRightCorner(rest, rest) -
                               a.bottomLeftCorner(rest, own) * a.topLeftCorner(own, own).lu().solve(
                                                                   a.topRightCorner(own, rest));
        double worst = 0;
        for (Index k = 0; k < rest; ++k)
            for (Index i = k; i < rest; ++i)
                worst = std::max(
                    worst, std::abs(std::complex<double>(front(own + i, own + k)) - left(i, k)));
        if (rest > 0) CHECK(worst / left.cwiseAbs().maxCoeff() < rounding);

        auto x = planes_across<Real>(right);
        gone.forwards(x);
        if (rest > 0) {  // whoever eliminates those solves them
            const MatrixXcd solved = left.lu().solve(numbers_across(x).bottomRows(rest));
            for (Index i = 0; i < rest; ++i)
                for (Index s = 0; s < right.cols(); ++s) {
                    x.re(s, own + i) = static_cast<Real>(solved(i, s).real());
                    x.im(s, own + i) = static_cast<Real>(solved(i, s).imag());
                }
        }
        gone.backwards(x);
        const MatrixXcd whole = a.lu().solve(right);
        CHECK((numbers_across(x) - whole).norm() / whole.norm() < rounding);
        if (rest > 0) continue;
        CHECK((gone.solved(right) - whole).norm() / whole.norm() < rounding);
        CHECK((gone.solved(right.col(1)) - whole.col(1)).norm() / whole.norm() < rounding);
    }
}

}  // namespace

TEST_CASE("A symmetric matrix eliminated as far as wanted, in both precisions") {
    check<double>(1e-12);
    check<float>(5e-4);
}

TEST_CASE("Right-hand sides have as many columns as there are unknowns") {
    auto a = lower_half<double>(symmetric(6));
    const SymmetricElimination<double> gone(a, 4);
    auto x = ComplexPlanes<double>::zero(2, 5);
    CHECK_THROWS_AS(gone.forwards(x), std::length_error);
    CHECK_THROWS_AS(gone.backwards(x), std::length_error);
    CHECK_THROWS_AS(gone.solved(MatrixXcd::Zero(6, 1)), std::length_error);
    auto oblong = ComplexPlanes<double>::zero(6, 5);
    CHECK_THROWS_AS(SymmetricElimination<double>(oblong, 4), std::length_error);
    CHECK_THROWS_AS(SymmetricElimination<double>(a, 7), std::length_error);
}
