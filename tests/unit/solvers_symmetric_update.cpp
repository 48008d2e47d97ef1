// Products that an elimination takes from what is left, against the plain definition.
#include "solvers/symmetric_update.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <stdexcept>

using namespace boxroom;
using Eigen::Index;

namespace {

/// What is kept of a after a -= l r^T, from the diagonal down; the largest difference from sums in
/// double precision.
template <typename Real>
double apart(const ComplexMatrix<Real>& before, const ComplexMatrix<Real>& after,
             const ComplexMatrix<Real>& l, const ComplexMatrix<Real>& r) {
    double worst = 0;
    for (Index column = 0; column < before.cols(); ++column)
        for (Index row = column; row < before.rows(); ++row) {
            std::complex<double> sum(before(row, column));
            for (Index n = 0; n < l.cols(); ++n)
                sum -= std::complex<double>(l(row, n)) * std::complex<double>(r(column, n));
            worst = std::max(worst, std::abs(std::complex<double>(after(row, column)) - sum));
        }
    return worst;
}

template <typename Real>
void check(double rounding) {
    for (const auto& [rows, columns, terms] : {std::array<Index, 3>{1, 1, 1},
                                               {7, 3, 5},
                                               {16, 16, 16},
                                               {33, 32, 17},
                                               {40, 9, 64},
                                               {130, 130, 20},
                                               {301, 150, 33}}) {
        INFO(rows << " x " << columns << " x " << terms);
        const ComplexMatrix<Real> whole =
            ComplexMatrix<Real>::Random(rows + 3, columns + terms + 2);
        const auto l = whole.block(2, columns + 1, rows, terms);
        const ComplexMatrix<Real> r = ComplexMatrix<Real>::Random(columns, terms),
                                  before = whole.block(2, 1, rows, columns);
        ComplexMatrix<Real> changed = whole;
        subtract_below_diagonal<Real>(changed.block(2, 1, rows, columns), l, r);
        CHECK(apart<Real>(before, changed.block(2, 1, rows, columns), l, r) < terms * rounding);
        for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
            if (!can_run(set)) continue;
            INFO(vector_instructions(set));
            changed = whole;
            subtract_in_planes<Real>(changed.block(2, 1, rows, columns), l, r, set);
            CHECK(apart<Real>(before, changed.block(2, 1, rows, columns), l, r) < terms * rounding);
            // Nothing beside the block is touched.
            changed.block(2, 1, rows, columns) = before;
            CHECK(changed == whole);
        }
    }
}

}  // namespace

TEST_CASE("What an elimination takes from the rest, with every set of instructions") {
    check<float>(5e-7);
    check<double>(1e-15);
}

TEST_CASE("What an elimination takes from the rest has to fit") {
    using Matrix = ComplexMatrix<float>;
    Matrix a = Matrix::Zero(4, 3), wide = Matrix::Zero(3, 4);
    const Matrix l = Matrix::Zero(4, 2), r = Matrix::Zero(3, 2);
    CHECK_THROWS_AS(subtract_below_diagonal<float>(a, l, Matrix::Zero(3, 1)), std::length_error);
    CHECK_THROWS_AS(subtract_in_planes<float>(a, r, r), std::length_error);
    CHECK_THROWS_AS(subtract_in_planes<float>(wide, r, l), std::length_error);
}
