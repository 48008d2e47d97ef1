#include "solvers/dense_algebra.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <numbers>

namespace boxroom {

SymmetricParts symmetric_parts(const Eigen::MatrixXd& a) {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> parts(a);
    return {parts.eigenvalues(), parts.eigenvectors()};
}

SymmetricParts symmetric_parts(const Eigen::MatrixXd& a, const Eigen::MatrixXd& mass) {
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> parts(a, mass);
    return {parts.eigenvalues(), parts.eigenvectors()};
}

Eigen::MatrixXd upper_inverse_root(const Eigen::MatrixXd& a) {
    const Eigen::MatrixXd one = Eigen::MatrixXd::Identity(a.rows(), a.cols());
    return a.llt().matrixL().solve(one).transpose();
}

ComplexParts complex_parts(const Eigen::MatrixXcd& a, bool with_vectors) {
    const Eigen::ComplexEigenSolver<Eigen::MatrixXcd> parts(a, with_vectors);
    ComplexParts out{parts.eigenvalues(), {}};
    if (with_vectors) out.vector = parts.eigenvectors();
    return out;
}

Eigen::MatrixXcd solved(const Eigen::MatrixXcd& a, const Eigen::MatrixXcd& b) {
    return a.partialPivLu().solve(b);
}

std::complex<double> log_determinant(const Eigen::MatrixXcd& a) {
    const Eigen::PartialPivLU<Eigen::MatrixXcd> lu(a);
    std::complex<double> sum = 0;
    if (lu.permutationP().determinant() < 0) sum = {0, std::numbers::pi};
    for (const std::complex<double> factor : lu.matrixLU().diagonal()) sum += std::log(factor);
    return sum;
}

}  // namespace boxroom
