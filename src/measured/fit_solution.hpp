#pragma once
#include <Eigen/Core>
#include <functional>

#include "measured/room_misfit.hpp"

namespace boxroom {

inline constexpr double least_discrepancy =
    0.7;  ///< dB that no model of a living room is better than

/// The likeliest x and the linear problem there.
struct FitSolution {
    Eigen::VectorXd at;
    Eigen::MatrixXd
        information;  ///< J'J, priors included: the inverse of the posterior's covariance
    bool settled = false;
};

/// Least squares from `start`, the weights as they are.
FitSolution fit_solution(const RoomMisfit& misfit, const Eigen::VectorXd& start, int evaluations);

/// In rounds: what is left over becomes the discrepancy, and the weights change. `progress` is told
/// the share of the work that is done.
FitSolution fit_in_rounds(RoomMisfit& misfit, Eigen::VectorXd start,
                          const std::function<void(double share)>& progress);

}  // namespace boxroom
