#pragma once
#include <complex>
#include <vector>

#include "base/air.hpp"

namespace boxroom {

/// One path by which a wall moves: z(w) = R + j w M + K/(j w) [Pa s/m].
struct Branch {
    double resistance = 0;  ///< R [Pa s/m], > 0
    double mass = 0;        ///< M [kg/m2], >= 0
    double stiffness = 0;   ///< K [Pa/m], >= 0
};

/// A locally reacting wall: branches in parallel. dp/dn = -j k beta p with n outward.
struct Wall {
    std::vector<Branch> branches;

    /// beta = rho c sum_i 1/z_i(w); w may be complex (decaying modes).
    std::complex<double> admittance(std::complex<double> omega, const Air& air) const;
};

/// Random-incidence absorption of a locally reacting surface (Paris' integral; Kuttruff, Room
/// Acoustics, sec. 2.5): alpha = 2 int_0^{pi/2} alpha(theta) sin cos dtheta, in closed form.
double random_incidence_absorption(std::complex<double> beta);

/// The resistive wall (R > rho c, the live side) whose random-incidence absorption is `alpha`.
/// Throws Error outside (0, 0.95]: a locally reacting wall cannot absorb more than 0.951.
Wall wall_from_absorption(double alpha, const Air& air);

}  // namespace boxroom
