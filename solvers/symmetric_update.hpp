#pragma once
#include <Eigen/Core>
#include <complex>

#include "base/processor.hpp"

namespace boxroom {

template <typename Real>
using ComplexMatrix = Eigen::Matrix<std::complex<Real>, Eigen::Dynamic, Eigen::Dynamic>;
template <typename Real>
using ComplexBlock = Eigen::Ref<ComplexMatrix<Real>>;
template <typename Real>
using ConstComplexBlock = Eigen::Ref<const ComplexMatrix<Real>>;

/// a -= l r^T from the diagonal down, n x m with n >= m; what lies above is anything after. `l` is
/// n x k and `r` m x k. Throws std::length_error for other sizes.
template <typename Real>
void subtract_below_diagonal(ComplexBlock<Real> a, const ConstComplexBlock<Real>& l,
                             const ConstComplexBlock<Real>& r);

/// The same in two planes, by the vectors that the processor has (product_vectors), whatever the
/// program was compiled for: twice as quick with AVX2 as Eigen's complex products compiled for it,
/// two to nine times as quick as those for any processor. Eigen's for AVX-512 are quicker still.
template <typename Real>
void subtract_in_planes(ComplexBlock<Real> a, const ConstComplexBlock<Real>& l,
                        const ConstComplexBlock<Real>& r, VectorSet set = vector_set());

extern template void subtract_below_diagonal<float>(ComplexBlock<float>,
                                                    const ConstComplexBlock<float>&,
                                                    const ConstComplexBlock<float>&);
extern template void subtract_below_diagonal<double>(ComplexBlock<double>,
                                                     const ConstComplexBlock<double>&,
                                                     const ConstComplexBlock<double>&);
extern template void subtract_in_planes<float>(ComplexBlock<float>, const ConstComplexBlock<float>&,
                                               const ConstComplexBlock<float>&, VectorSet);
extern template void subtract_in_planes<double>(ComplexBlock<double>,
                                                const ConstComplexBlock<double>&,
                                                const ConstComplexBlock<double>&, VectorSet);

}  // namespace boxroom
