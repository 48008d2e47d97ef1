#pragma once
#include <complex>
#include <span>
#include <string>
#include <vector>

#include "base/air.hpp"

namespace boxroom {

/// One path by which a wall moves: z(w) = R + j w M + K/(j w) [Pa s/m].
struct Branch {
    double resistance = 0;  ///< R [Pa s/m], > 0
    double mass = 0;        ///< M [kg/m2], >= 0
    double stiffness = 0;   ///< K [Pa/m], >= 0
    bool operator==(const Branch&) const = default;
};

/// A locally reacting wall: branches in parallel. dp/dn = -j k beta p with n outward.
struct Wall {
    std::vector<Branch> branches;

    /// beta = rho c sum_i 1/z_i(w); w may be complex (decaying modes).
    std::complex<double> admittance(std::complex<double> omega, const Air& air) const;
    bool operator==(const Wall&) const = default;
};

/// Random-incidence absorption of a locally reacting surface (Paris' integral; Kuttruff, Room
/// Acoustics, sec. 2.5): alpha = 2 int_0^{pi/2} alpha(theta) sin cos dtheta, in closed form.
double random_incidence_absorption(std::complex<double> beta);

/// The resistive wall (R > rho c, the live side) whose random-incidence absorption is `alpha`.
/// Throws Error outside (0, 0.95]: a locally reacting wall cannot absorb more than 0.951.
Wall wall_from_absorption(double alpha, const Air& air);

/// The wall that gives way by this factor more: every R, M and K divided by it.
Wall softened(Wall wall, double factor);

/// A part of a wall that is made of something else: a window, a door.
struct WallPart {
    Wall wall;
    double area = 0;          ///< [m2]; 0 for the first of a wall's parts: what the others leave
    std::string description;  ///< as the file says it
};

/// The wall of `area` [m2] whose admittance is the mean of its parts' by area,
/// y = sum_i S_i/S sum_b 1/z_ib: their branches in parallel, each with R, M and K times S/S_i. For
/// waves much longer than the parts are wide: the field sees the mean (design, section 12), not
/// where in the wall the window is. A first part without an area takes what the others leave.
/// Throws Error where the parts do not fill the wall exactly, or no area is left for the first.
Wall mean_wall(std::span<const WallPart> parts, double area);

}  // namespace boxroom
