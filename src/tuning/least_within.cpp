#include "tuning/least_within.hpp"

#include <Eigen/Cholesky>
#include <stdexcept>
#include <vector>

namespace boxroom {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// The damped step of those variables that no bound holds [lengths].
VectorXd step_from(const SquaresAt& at, const VectorXd& x, const SearchBounds& bounds,
                   double damping) {
    std::vector<Index> free;
    for (Index i = 0; i < x.size(); ++i)
        if (!(x(i) <= bounds.low(i) && at.slope(i) > 0) &&
            !(x(i) >= bounds.high(i) && at.slope(i) < 0))
            free.push_back(i);
    VectorXd step = VectorXd::Zero(x.size());
    if (free.empty()) return step;
    MatrixXd a = at.curvature(free, free);
    VectorXd b = -at.slope(free);
    for (std::size_t i = 0; i < free.size(); ++i) {
        const double length = bounds.length(free[i]);
        b(static_cast<Index>(i)) *= length;
        a.row(static_cast<Index>(i)) *= length;
        a.col(static_cast<Index>(i)) *= length;
    }
    a.diagonal().array() += damping * (a.trace() / static_cast<double>(a.rows()) + 1e-12);
    const VectorXd found = a.llt().solve(b);
    step(free) = found;
    return step;
}

}  // namespace

VectorXd least_within(const std::function<double(const VectorXd&)>& sum,
                      const std::function<SquaresAt(const VectorXd&)>& near, VectorXd start,
                      const SearchBounds& bounds, int most, double close) {
    for (const VectorXd* v : {&bounds.low, &bounds.high, &bounds.length})
        if (v->size() != start.size())
            throw std::length_error("bounds and lengths are wanted for each variable");
    if (start.size() == 0) return start;
    constexpr double heaviest = 1e6;
    VectorXd x = start.cwiseMax(bounds.low).cwiseMin(bounds.high);
    double damping = 1e-2;
    for (int asked = 0; asked < most;) {
        const SquaresAt at = near(x);
        for (++asked;; ++asked) {
            const VectorXd to = (x + step_from(at, x, bounds, damping).cwiseProduct(bounds.length))
                                    .cwiseMax(bounds.low)
                                    .cwiseMin(bounds.high);
            const double moved = ((to - x).cwiseQuotient(bounds.length)).cwiseAbs().maxCoeff();
            const bool lower = sum(to) < at.sum;
            if (lower) x = to, damping = damping > 1e-9 ? damping / 5 : damping;
            if (moved < close) return x;
            if (lower) break;
            damping *= 4;
            if (asked >= most || damping > heaviest) return x;
        }
    }
    return x;
}

}  // namespace boxroom
