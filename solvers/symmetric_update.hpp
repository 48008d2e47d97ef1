#pragma once
#include "base/processor.hpp"
#include "solvers/complex_planes.hpp"

namespace boxroom {

/// Some columns of a matrix, from the first to before the last.
struct Columns {
    Eigen::Index first, last;
};

/// What eliminated unknowns take from the lower half of later columns:
/// a(i, k) -= sum_n a(i, n) l(k, n) for k in `later` and i from k on, n in `gone`, where these
/// columns of `a` are L D. What lies above the diagonal there is anything after. By the vectors
/// that the processor has (product_vectors), whatever the program was compiled for. Throws
/// std::length_error where `l` has not as many rows as `a` or lacks columns.
template <typename Real>
void subtract_below_diagonal(ComplexPlanes<Real>& a, const ComplexPlanes<Real>& l, Columns later,
                             Columns gone, VectorSet set = vector_set());

extern template void subtract_below_diagonal<float>(ComplexPlanes<float>&,
                                                    const ComplexPlanes<float>&, Columns, Columns,
                                                    VectorSet);
extern template void subtract_below_diagonal<double>(ComplexPlanes<double>&,
                                                     const ComplexPlanes<double>&, Columns, Columns,
                                                     VectorSet);

}  // namespace boxroom
