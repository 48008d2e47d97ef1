#include "solvers/summed_systems.hpp"

#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

using Eigen::MatrixXcd;

namespace {

// Loops as the compiler makes vectors of them.
void add_scaled(const double* from, std::complex<double> scale, Eigen::Index begin,
                Eigen::Index end, double* __restrict re, double* __restrict im) {
    const double by_re = scale.real(), by_im = scale.imag();
    for (Eigen::Index i = begin; i < end; ++i) {
        re[i] += by_re * from[i];
        im[i] += by_im * from[i];
    }
}

}  // namespace

std::vector<ComplexPlanes<double>> SummedSystems::lower_halves() const {
    const Eigen::Index size = part.front()->rows();
    std::vector<ComplexPlanes<double>> sum;
    for (std::size_t n = 0; n < scale.size(); ++n) sum.emplace_back(size, size);
    for (Eigen::Index column = 0; column < size; ++column)
        for (std::size_t n = 0; n < sum.size(); ++n) {
            auto re = sum[n].re.col(column), im = sum[n].im.col(column);
            re.setZero(), im.setZero();
            for (std::size_t p = 0; p < part.size(); ++p)
                add_scaled(part[p]->col(column).data(), scale[n][p], column, size, re.data(),
                           im.data());
        }
    return sum;
}

MatrixXcd SummedSystems::times(const MatrixXcd& x) const {
    const Eigen::Index columns = x.cols();
    Eigen::MatrixXd both(x.rows(), 2 * columns);  // each part is read once
    both << x.real(), x.imag();
    MatrixXcd sum = MatrixXcd::Zero(x.rows(), columns), product(x.rows(), columns);
    for (std::size_t p = 0; p < part.size(); ++p) {
        const Eigen::MatrixXd made = *part[p] * both;
        product.real() = made.leftCols(columns);
        product.imag() = made.rightCols(columns);
        for (Eigen::Index n = 0; n < columns; ++n)
            sum.col(n) += scale[scale.size() == 1 ? 0 : n][p] * product.col(n);
    }
    return sum;
}

std::vector<MatrixXcd> SummedSystems::solve(const std::vector<const Eigen::MatrixXd*>& load) const {
    std::vector<MatrixXcd> solved;
    std::vector<ComplexPlanes<double>> sums = lower_halves();
    for (std::size_t n = 0; n < sums.size(); ++n) {
        const SymmetricElimination<double> factor(sums[n], sums[n].rows());
        solved.push_back(factor.solved(load[n]->cast<std::complex<double>>()));
    }
    return solved;
}

}  // namespace boxroom
