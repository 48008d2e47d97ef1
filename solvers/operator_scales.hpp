#pragma once
#include <complex>
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// What the operator A = sum_n scale_n K_n - k^2 M + j k sum_s beta_s B_s is made of at one
/// frequency: K_room/s and K_elsewhere, s being the contents' density factor.
struct OperatorScales {
    std::complex<double> stiffness_room, stiffness_elsewhere, mass;
    std::vector<std::complex<double>> wall;  ///< j k beta of each surface
};
OperatorScales operator_scales(const Room& room, const Air& air, double frequency);
/// The same for a decaying oscillation; w [rad/s].
OperatorScales operator_scales_at(const Room& room, const Air& air, std::complex<double> omega);

}  // namespace boxroom
