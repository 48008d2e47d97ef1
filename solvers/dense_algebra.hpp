#pragma once
#include <Eigen/Core>
#include <complex>

namespace boxroom {

// Eigenvalues, factors and inverses of dense matrices, by Eigen. In a file of their own since each
// kind costs the compiler up to half a minute, whoever asks for it.

/// Of a symmetric matrix: values rising, vectors as columns of length one.
struct SymmetricParts {
    Eigen::VectorXd value;
    Eigen::MatrixXd vector;
};
/// Reads the lower half.
SymmetricParts symmetric_parts(const Eigen::MatrixXd& a);
/// a v = value mass v; `mass` positive definite, and v^T mass v = 1.
SymmetricParts symmetric_parts(const Eigen::MatrixXd& a, const Eigen::MatrixXd& mass);

/// U with U^T a U = 1, upper triangular (Cholesky); `a` positive definite, of which the lower half
/// is read.
Eigen::MatrixXd upper_inverse_root(const Eigen::MatrixXd& a);

/// Of any complex matrix, in no order.
struct ComplexParts {
    Eigen::VectorXcd value;
    Eigen::MatrixXcd vector;  ///< empty where it was not wanted
};
ComplexParts complex_parts(const Eigen::MatrixXcd& a, bool with_vectors);

// By LU with row exchanges; for matrices that have an inverse.
/// a^-1 b.
Eigen::MatrixXcd solved(const Eigen::MatrixXcd& a, const Eigen::MatrixXcd& b);
/// One of the numbers whose e^ is the determinant, which may itself be beyond a double.
std::complex<double> log_determinant(const Eigen::MatrixXcd& a);

}  // namespace boxroom
