// Products that an elimination takes from what is left, against the plain definition.
#include "solvers/symmetric_update.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <stdexcept>

using namespace boxroom;
using Eigen::Index;

namespace {

template <typename Real>
ComplexPlanes<Real> random_planes(Index rows, Index columns) {
    ComplexPlanes<Real> m(rows, columns);
    m.re.setRandom(), m.im.setRandom();
    return m;
}

template <typename Real>
void check(double rounding) {
    struct Sizes {
        Index size;
        Columns later, gone;
    };
    for (const auto& [size, later, gone] : {Sizes{2, {1, 2}, {0, 1}},
                                            {12, {5, 8}, {0, 5}},
                                            {48, {32, 48}, {16, 32}},
                                            {65, {19, 65}, {3, 19}},
                                            {300, {150, 300}, {0, 150}},
                                            {460, {280, 330}, {10, 275}}}) {
        INFO(size << ": " << later.first << " to " << later.last << " less " << gone.first << " to "
                  << gone.last);
        const auto before = random_planes<Real>(size, size), l = random_planes<Real>(size, size);
        for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
            if (!can_run(set)) continue;
            INFO(vector_instructions(set));
            auto a = before;
            subtract_below_diagonal(a, l, later, gone, set);
            double worst = 0;
            bool others_as_before = true;
            for (Index k = 0; k < size; ++k)
                for (Index i = k; i < size; ++i) {
                    if (k < later.first || k >= later.last) {
                        others_as_before = others_as_before && a(i, k) == before(i, k);
                        continue;
                    }
                    std::complex<double> sum(before(i, k));
                    for (Index n = gone.first; n < gone.last; ++n)
                        sum -= std::complex<double>(before(i, n)) * std::complex<double>(l(k, n));
                    worst = std::max(worst, std::abs(std::complex<double>(a(i, k)) - sum));
                }
            CHECK(worst < static_cast<double>(gone.last - gone.first) * rounding);
            CHECK(others_as_before);
        }
    }
}

}  // namespace

TEST_CASE("What an elimination takes from the rest, with every set of instructions") {
    check<float>(5e-7);
    check<double>(1e-15);
}

TEST_CASE("What an elimination takes from the rest has to fit") {
    auto a = ComplexPlanes<float>::zero(8, 8);
    const auto l = ComplexPlanes<float>::zero(8, 4), other = ComplexPlanes<float>::zero(7, 4);
    subtract_below_diagonal(a, l, {4, 8}, {0, 4});
    CHECK_THROWS_AS(subtract_below_diagonal(a, other, {4, 8}, {0, 4}), std::length_error);
    CHECK_THROWS_AS(subtract_below_diagonal(a, l, {5, 8}, {0, 5}), std::length_error);
    CHECK_THROWS_AS(subtract_below_diagonal(a, l, {4, 9}, {0, 4}), std::length_error);
    CHECK_THROWS_AS(subtract_below_diagonal(a, l, {3, 8}, {0, 4}), std::length_error);
}
