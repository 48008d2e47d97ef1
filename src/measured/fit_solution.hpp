#pragma once
#include <Eigen/Core>
#include <functional>

#include "measured/least_squares.hpp"
#include "measured/room_misfit.hpp"

namespace boxroom {

/// No model of a living room is better than that [dB] (assumed: as well as a measurement in one
/// repeats).
inline constexpr double least_discrepancy = 0.2;

/// The likeliest x and the linear problem there.
struct FitSolution {
    Eigen::VectorXd at;
    /// J'J, priors included: the inverse of the posterior's covariance.
    Eigen::MatrixXd information;
    bool settled = false;
    Eigen::MatrixXd covariance() const;
    /// How many numbers the data have told. Priors are of variance 1: what is left of them was told
    /// by nobody.
    double told() const { return static_cast<double>(at.size()) - covariance().trace(); }
};

/// Least squares from `start`, the weights as they are.
LeastSquares likeliest(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations);
/// The same with what the data tell there.
FitSolution fit_solution(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations);

/// In rounds: what is left over becomes the discrepancy, and the weights change. `progress` is told
/// the share of the work that is done.
FitSolution fit_in_rounds(RoomMisfit& misfit, Eigen::VectorXd start,
                          const std::function<void(double share)>& progress);

}  // namespace boxroom
