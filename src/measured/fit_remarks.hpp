#pragma once
#include <Eigen/Core>
#include <vector>

#include "measured/room_fit.hpp"
#include "measured/room_misfit.hpp"

namespace boxroom {

double mean_of(const std::vector<SeatMisfit>& all, double SeatMisfit::*member);

/// Adds what somebody should know before they believe the fit at x: recordings of another room or
/// another place, furniture that is missing, seats that are predicted no better than before, subs
/// of opposite sign. Each a sentence without its stop.
void add_remarks(const FitQuestion& question, const RoomMisfit& misfit, const Eigen::VectorXd& x,
                 RoomFit& fit);

}  // namespace boxroom
