#pragma once
#include <Eigen/Core>
#include <functional>

namespace boxroom {

/// A sum of squares near a point: to second order of what the residuals are to first (Gauss and
/// Newton).
struct SquaresAt {
    double sum = 0;
    Eigen::VectorXd slope;      ///< (P)
    Eigen::MatrixXd curvature;  ///< (P, P), no direction with less than none
};

/// Bounds of the variables, and lengths by which each is measured (P).
struct SearchBounds {
    Eigen::VectorXd low, high, length;
};

/// A low point of a sum of squares near `start`, within the bounds: damped steps (Levenberg 1944;
/// Nocedal & Wright, Numerical Optimization, 2nd ed., sec. 10.3), what presses against a bound
/// held there (sec. 16.7). Ends where a step is shorter than `close` of every length, or after
/// `most` points: where the sum is smooth, at the low point itself to 1e-5 of every length, and at
/// the same one wherever the last digits are rounded in another way. `sum` is the sum alone, which
/// costs less. Throws std::length_error where the sizes differ.
Eigen::VectorXd least_within(const std::function<double(const Eigen::VectorXd&)>& sum,
                             const std::function<SquaresAt(const Eigen::VectorXd&)>& near,
                             Eigen::VectorXd start, const SearchBounds& bounds, int most,
                             double close = 1e-8);

}  // namespace boxroom
