#include "measured/fit_solution.hpp"

#include <algorithm>
#include <cmath>

#include "measured/least_squares.hpp"

namespace boxroom {
namespace {

/// A thousandth of the sum: far below what the data tell.
constexpr double close_enough = 1e-3;

}  // namespace

FitSolution fit_solution(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations) {
    const LeastSquares found = least_squares(
        [&](const Eigen::VectorXd& x) { return misfit.residuals(x); }, start,
        [&](const Eigen::VectorXd& x) { return misfit.slopes(x); }, evaluations, close_enough);
    return {found.at, found.slopes.transpose() * found.slopes, found.settled};
}

FitSolution fit_in_rounds(RoomMisfit& misfit, Eigen::VectorXd start,
                          const std::function<void(double share)>& progress) {
    constexpr int rounds = 3;
    FitSolution solution;
    for (int round = 0; round < rounds; ++round) {
        progress(static_cast<double>(round) / rounds);
        solution = fit_solution(misfit, start, 25);
        start = solution.at;
        const double left = std::max(misfit.apart(start), least_discrepancy);
        const bool same = std::abs(left / misfit.discrepancy() - 1) < 0.1;
        misfit.set_discrepancy(left);
        if (same) break;
    }
    return solution;
}

}  // namespace boxroom
