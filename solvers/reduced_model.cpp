#include "solvers/reduced_model.hpp"

#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

Eigen::MatrixXcd ReducedModel::lower_half(const OperatorScales& scales) const {
    // A column at a time while it is at hand.
    const Eigen::Index n = size();
    Eigen::MatrixXcd a = Eigen::MatrixXcd::Zero(n, n);
    for (Eigen::Index column = 0; column < n; ++column) {
        const Eigen::Index count = n - column;
        Eigen::VectorXd real =
            scales.stiffness_room.real() * stiffness_room.col(column).tail(count) +
            scales.stiffness_elsewhere.real() * stiffness_elsewhere.col(column).tail(count) +
            scales.mass.real() * mass.col(column).tail(count);
        Eigen::VectorXd imaginary =
            scales.stiffness_room.imag() * stiffness_room.col(column).tail(count) +
            scales.mass.imag() * mass.col(column).tail(count);
        for (std::size_t s = 0; s < wall.size(); ++s) {
            if (wall[s].size() == 0) continue;
            real += scales.wall[s].real() * wall[s].col(column).tail(count);
            imaginary += scales.wall[s].imag() * wall[s].col(column).tail(count);
        }
        a.col(column).tail(count).real() = real;
        a.col(column).tail(count).imag() = imaginary;
    }
    return a;
}

Eigen::MatrixXcd ReducedModel::times(const OperatorScales& scales,
                                     const Eigen::MatrixXcd& x) const {
    const Eigen::Index columns = x.cols();
    Eigen::MatrixXd both(x.rows(), 2 * columns);  // each part is read once
    both << x.real(), x.imag();
    const auto part = [&](std::complex<double> scale, const Eigen::MatrixXd& m) {
        const Eigen::MatrixXd made = m * both;
        Eigen::MatrixXcd product(x.rows(), columns);
        product.real() = made.leftCols(columns);
        product.imag() = made.rightCols(columns);
        return Eigen::MatrixXcd(scale * product);
    };
    Eigen::MatrixXcd sum = part(scales.stiffness_room, stiffness_room) +
                           part(scales.stiffness_elsewhere, stiffness_elsewhere) +
                           part(scales.mass, mass);
    for (std::size_t s = 0; s < wall.size(); ++s)
        if (wall[s].size() > 0) sum += part(scales.wall[s], wall[s]);
    return sum;
}

ReducedModel with_equal_walls_as_one(ReducedModel model, const std::vector<Wall>& walls) {
    for (std::size_t n = 0; n < model.wall.size(); ++n)
        for (std::size_t first = 0; first < n && model.wall[n].size() > 0; ++first)
            if (model.wall[first].size() > 0 && walls[first] == walls[n]) {
                model.wall[first] += model.wall[n];
                model.wall[n].resize(0, 0);
            }
    return model;
}

Eigen::MatrixXcd ReducedModel::solve(const OperatorScales& scales,
                                     const Eigen::MatrixXd& load) const {
    Eigen::MatrixXcd a = lower_half(scales);
    const SymmetricElimination<double> factor(a, a.rows());
    Eigen::MatrixXcd x = load.cast<std::complex<double>>();
    factor.forwards(x);
    factor.backwards(x);
    return x;
}

}  // namespace boxroom
