#include "solvers/reduced_model.hpp"

#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

Eigen::MatrixXcd ReducedModel::solve(const OperatorScales& scales,
                                     const Eigen::MatrixXd& load) const {
    // The lower half is enough, a column at a time while it is at hand.
    const Eigen::Index n = size();
    Eigen::MatrixXcd a(n, n);
    for (Eigen::Index column = 0; column < n; ++column) {
        const Eigen::Index count = n - column;
        Eigen::VectorXd real =
            scales.stiffness_room.real() * stiffness_room.col(column).tail(count) +
            scales.stiffness_elsewhere.real() * stiffness_elsewhere.col(column).tail(count) +
            scales.mass.real() * mass.col(column).tail(count);
        Eigen::VectorXd imaginary =
            scales.stiffness_room.imag() * stiffness_room.col(column).tail(count);
        for (std::size_t s = 0; s < wall.size(); ++s) {
            if (wall[s].size() == 0) continue;
            real += scales.wall[s].real() * wall[s].col(column).tail(count);
            imaginary += scales.wall[s].imag() * wall[s].col(column).tail(count);
        }
        a.col(column).tail(count).real() = real;
        a.col(column).tail(count).imag() = imaginary;
    }
    const SymmetricElimination<double> factor(a, a.rows());
    Eigen::MatrixXcd x = load.cast<std::complex<double>>();
    factor.forwards(x);
    factor.backwards(x);
    return x;
}

}  // namespace boxroom
