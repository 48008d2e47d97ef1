#include "solvers/left_over.hpp"

#include <algorithm>
#include <cmath>
#include <random>

namespace boxroom {

LeftOver::LeftOver(const ElementMatrices& matrices, const Eigen::VectorXd& air) {
    constexpr Eigen::Index sums = 24;
    std::mt19937_64 random(1);  // its bits are the standard's: the same signs on every machine
    Eigen::MatrixXd signs(sums, air.size());
    for (Eigen::Index n = 0; n < air.size(); ++n) {
        const double size = 1 / std::sqrt(static_cast<double>(sums) * air(n));
        const auto bits = random();
        for (Eigen::Index i = 0; i < sums; ++i) signs(i, n) = bits >> i & 1 ? size : -size;
    }
    signs_.append(std::move(signs));
    part_.assign(matrices.parts(), Eigen::MatrixXd(sums, 0));
}

void LeftOver::follow(const ElementMatrices& matrices, const FunctionBlocks& functions) {
    if (functions.size() == functions_) return;
    const auto of_fresh = matrices.between(signs_, functions.after(functions_));
    for (std::size_t p = 0; p < part_.size(); ++p) {
        if (of_fresh[p].size() == 0) continue;  // there is none of this part
        part_[p].conservativeResize(Eigen::NoChange, functions.size());
        part_[p].rightCols(of_fresh[p].cols()) = of_fresh[p];
    }
    functions_ = functions.size();
}

double LeftOver::share(const OperatorScales& scales, const Eigen::VectorXd& sums_of_load,
                       const Eigen::VectorXcd& field) const {
    Eigen::MatrixXd parts(field.size(), 2);
    parts << field.real(), field.imag();
    Eigen::VectorXcd rest = sums_of_load.cast<std::complex<double>>();
    const auto take = [&](const Eigen::MatrixXd& part, std::complex<double> scale) {
        if (part.cols() == 0) return;
        const Eigen::MatrixXd made = part * parts;
        rest.real() -= scale.real() * made.col(0) - scale.imag() * made.col(1);
        rest.imag() -= scale.real() * made.col(1) + scale.imag() * made.col(0);
    };
    take(part_[0], scales.stiffness_room);
    take(part_[1], scales.stiffness_elsewhere);
    take(part_[2], scales.mass);
    for (std::size_t p = 3; p < part_.size(); ++p) take(part_[p], scales.wall[p - 3]);
    return rest.norm() / field.norm();  // |V y| = |y|
}

std::vector<double> worst_two(std::span<const double> frequency, std::span<const double> left) {
    constexpr double apart = 1.1;
    const auto worst = static_cast<std::size_t>(std::ranges::max_element(left) - left.begin());
    std::size_t second = worst;
    for (std::size_t n = 0; n < left.size(); ++n)
        if (std::max(frequency[n], frequency[worst]) >
                apart * std::min(frequency[n], frequency[worst]) &&
            (second == worst || left[n] > left[second]))
            second = n;
    return {std::min(frequency[worst], frequency[second]),
            std::max(frequency[worst], frequency[second])};
}

}  // namespace boxroom
