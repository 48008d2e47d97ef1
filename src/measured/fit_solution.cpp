#include "measured/fit_solution.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

/// A thousandth of the sum: far below what the data tell.
constexpr double close_enough = 1e-3;

}  // namespace

Eigen::MatrixXd FitSolution::covariance() const {
    return information.ldlt().solve(Eigen::MatrixXd::Identity(at.size(), at.size()));
}

LeastSquares likeliest(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations) {
    return least_squares([&](const Eigen::VectorXd& x) { return misfit.residuals(x); }, start,
                         [&](const Eigen::VectorXd& x) { return misfit.slopes(x); }, evaluations,
                         close_enough);
}

FitSolution fit_solution(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations) {
    const LeastSquares found = likeliest(misfit, start, evaluations);
    const Eigen::MatrixXd slopes = misfit.slopes(found.at);
    return {found.at, slopes.transpose() * slopes, found.settled};
}

FitSolution fit_in_rounds(RoomMisfit& misfit, Eigen::VectorXd start,
                          const std::function<void(double share)>& progress) {
    constexpr int rounds = 3;
    FitSolution solution;
    for (int round = 0; round < rounds; ++round) {
        progress(static_cast<double>(round) / rounds);
        solution = fit_solution(misfit, start, 25);
        start = solution.at;
        Discrepancy left = misfit.discrepancy_at(start, solution.told());
        left.db = std::max(left.db, least_discrepancy);
        const bool same = std::abs(left.db / misfit.discrepancy().db - 1) < 0.1;
        misfit.set_discrepancy(left);
        if (same) break;
    }
    return solution;
}

}  // namespace boxroom
