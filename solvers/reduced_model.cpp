#include "solvers/reduced_model.hpp"

#include <Eigen/LU>

namespace boxroom {

ReducedModel ReducedModel::first(Eigen::Index count) const {
    const auto cut = [count](const Eigen::MatrixXd& m) {
        return m.size() == 0 ? m : Eigen::MatrixXd(m.topLeftCorner(count, count));
    };
    ReducedModel fewer{cut(stiffness_room), cut(stiffness_elsewhere), cut(mass), {}};
    for (const auto& w : wall) fewer.wall.push_back(cut(w));
    return fewer;
}

Eigen::MatrixXcd ReducedModel::solve(const OperatorScales& scales,
                                     const Eigen::MatrixXd& load) const {
    Eigen::MatrixXd real = scales.stiffness_room.real() * stiffness_room +
                           scales.stiffness_elsewhere.real() * stiffness_elsewhere +
                           scales.mass.real() * mass;
    Eigen::MatrixXd imaginary = scales.stiffness_room.imag() * stiffness_room;
    for (std::size_t s = 0; s < wall.size(); ++s) {
        if (wall[s].size() == 0) continue;
        real += scales.wall[s].real() * wall[s];
        imaginary += scales.wall[s].imag() * wall[s];
    }
    Eigen::MatrixXcd a(real.rows(), real.cols());
    a.real() = real;
    a.imag() = imaginary;
    return a.partialPivLu().solve(load.cast<std::complex<double>>());
}

}  // namespace boxroom
