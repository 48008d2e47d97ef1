#pragma once
#include <Eigen/Core>
#include <functional>

namespace boxroom {

/// Residuals of a model at a point: r(x), always as many.
using Residuals = std::function<Eigen::VectorXd(const Eigen::VectorXd&)>;
/// dr/dx at a point, a column a parameter.
using Slopes = std::function<Eigen::MatrixXd(const Eigen::VectorXd&)>;

/// Where the sum of squared residuals is least.
struct LeastSquares {
    Eigen::VectorXd at;         ///< (P)
    Eigen::VectorXd residuals;  ///< (N) there
    bool settled = false;       ///< false: stopped at the bound on evaluations
    double sum() const { return residuals.squaredNorm(); }
};

/// The least of |r(x)|^2 by Levenberg's and Marquardt's method as MINPACK has it (More, Lecture
/// Notes in Mathematics 630, 1978; Eigen's translation). `slopes` may be empty: by
/// difference then. Residuals that are not finite count as very
/// bad places. `tolerance`: relative change of the sum, or of the place, at which it stops. Throws
/// std::invalid_argument for fewer residuals than parameters.
LeastSquares least_squares(const Residuals& residuals, const Eigen::VectorXd& start,
                           const Slopes& slopes = {}, int most_evaluations = 400,
                           double tolerance = 1e-10);

/// dr/dx (N, P) at x by central differences: parameters must move by about 1.
Eigen::MatrixXd slopes_by_difference(const Residuals& residuals, const Eigen::VectorXd& x);

}  // namespace boxroom
