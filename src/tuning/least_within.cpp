#include "tuning/least_within.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
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
    // Every point is one of a lattice, and no step follows a direction along which next to nothing
    // changes: what a processor rounds is far below either, so that all of them go the same way.
    constexpr double heaviest = 1e6, lightest = 1e-4, lattice = 1.0 / 65536;
    const VectorXd unit = lattice * bounds.length;
    const auto within = [&](const VectorXd& x) {
        const VectorXd on = x.cwiseQuotient(unit).array().round().matrix().cwiseProduct(unit);
        return VectorXd(on.cwiseMax(bounds.low).cwiseMin(bounds.high));
    };
    VectorXd x = within(start);
    double damping = 1e-2;
    for (int asked = 0; asked < most;) {
        const SquaresAt at = near(x);
        for (++asked;; ++asked) {
            const VectorXd to =
                within(x + step_from(at, x, bounds, damping).cwiseProduct(bounds.length));
            const double moved = ((to - x).cwiseQuotient(bounds.length)).cwiseAbs().maxCoeff();
            const bool lower = sum(to) < at.sum;
            if (lower) x = to, damping = std::max(damping / 5, lightest);
            if (moved < close) return x;
            if (lower) break;
            damping *= 4;
            if (asked >= most || damping > heaviest) return x;
        }
    }
    return x;
}

}  // namespace boxroom
