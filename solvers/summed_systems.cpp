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
void interleave(const double* re, const double* im, Eigen::Index begin, Eigen::Index end,
                std::complex<double>* to) {
    auto* __restrict pairs = reinterpret_cast<double*>(to);
    for (Eigen::Index i = begin; i < end; ++i) {
        pairs[2 * i] = re[i];
        pairs[2 * i + 1] = im[i];
    }
}

}  // namespace

std::vector<MatrixXcd> SummedSystems::lower_halves() const {
    const Eigen::Index size = part.front()->rows();
    std::vector<MatrixXcd> sum(scale.size());
    for (MatrixXcd& one : sum) one.resize(size, size);
    Eigen::VectorXd re(size), im(size);
    for (Eigen::Index column = 0; column < size; ++column)
        for (std::size_t n = 0; n < sum.size(); ++n) {
            re.setZero(), im.setZero();
            for (std::size_t p = 0; p < part.size(); ++p)
                add_scaled(part[p]->col(column).data(), scale[n][p], column, size, re.data(),
                           im.data());
            interleave(re.data(), im.data(), column, size, sum[n].col(column).data());
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
        sum += scale.front()[p] * product;
    }
    return sum;
}

std::vector<MatrixXcd> SummedSystems::solve(const std::vector<const Eigen::MatrixXd*>& load) const {
    std::vector<MatrixXcd> solved;
    std::vector<MatrixXcd> sums = lower_halves();
    for (std::size_t n = 0; n < sums.size(); ++n) {
        const SymmetricElimination<double> factor(sums[n], sums[n].rows());
        solved.emplace_back(load[n]->cast<std::complex<double>>());
        factor.forwards(solved.back());
        factor.backwards(solved.back());
    }
    return solved;
}

}  // namespace boxroom
