#include "measured/least_squares.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <stdexcept>
#include <unsupported/Eigen/LevenbergMarquardt>

namespace boxroom {
namespace {

constexpr double difference = 1e-5;  ///< of parameters of about 1: half the digits are left

Eigen::VectorXd finite(Eigen::VectorXd r) {
    for (double& value : r)
        if (!std::isfinite(value)) value = 1e6;
    return r;
}

struct Problem : Eigen::DenseFunctor<double> {
    Problem(const Residuals& r, const Slopes& s, Eigen::Index parameters, Eigen::Index count)
        : Eigen::DenseFunctor<double>(static_cast<int>(parameters), static_cast<int>(count)),
          residuals(r),
          slopes(s) {}

    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& r) const {
        r = finite(residuals(x));
        return 0;
    }
    int df(const Eigen::VectorXd& x, Eigen::MatrixXd& jacobian) const {
        jacobian = slopes ? slopes(x) : slopes_by_difference(residuals, x);
        return 0;
    }

    const Residuals& residuals;
    const Slopes& slopes;
};

}  // namespace

Eigen::MatrixXd slopes_by_difference(const Residuals& residuals, const Eigen::VectorXd& x) {
    Eigen::MatrixXd slopes(finite(residuals(x)).size(), x.size());
    for (Eigen::Index i = 0; i < x.size(); ++i) {
        Eigen::VectorXd up = x, down = x;
        up[i] += difference, down[i] -= difference;
        slopes.col(i) = (finite(residuals(up)) - finite(residuals(down))) / (2 * difference);
    }
    return slopes;
}

LeastSquares least_squares(const Residuals& residuals, const Eigen::VectorXd& start,
                           const Slopes& slopes, int most_evaluations, double tolerance) {
    const Eigen::Index count = residuals(start).size();
    if (count < start.size()) throw std::invalid_argument("fewer residuals than parameters");
    Problem problem(residuals, slopes, start.size(), count);
    Eigen::LevenbergMarquardt<Problem> search(problem);
    search.setMaxfev(most_evaluations);
    search.setFtol(tolerance), search.setXtol(tolerance);
    LeastSquares found;
    found.at = start;
    const auto status = search.minimize(found.at);
    found.settled = status != Eigen::LevenbergMarquardtSpace::TooManyFunctionEvaluation;
    found.residuals = finite(residuals(found.at));
    return found;
}

}  // namespace boxroom
