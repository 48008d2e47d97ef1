#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// What a set of lumped impedances at places of a room does to the pressure there.
///
/// Without them the pressures at K ports are `closed` (K x N, one column a source); pushing the
/// volume velocities w into the room adds Z w. Each port takes Y p out of it, so that
///   p = closed + Z w,  w = -Y p,  hence  (1 + Z Y) p = closed.
/// Returns w [m3/s]. Y may be full: a passage joins two ports.
Eigen::MatrixXcd port_flow(const Eigen::MatrixXcd& z, const Eigen::MatrixXcd& y,
                           const Eigen::MatrixXcd& closed);

/// One piece of an opening: a piston in a wall of a cuboid.
struct PortPatch {
    int cuboid = 0;     ///< 0: the room; 1 + n: space n
    int wall = 0;       ///< of the cuboid, a WallIndex
    Point low, high;    ///< in the cuboid's own coordinates; equal along the wall's axis
    int twin = -1;      ///< the patch at the other end of the passage; -1: the open air
    double depth = 0;   ///< of the passage [m]
    double opening = 0; ///< area of the whole opening [m2]
    double area() const;
};

/// The openings of a rectangle cut into patches not above `side` [m]; a passage has one at both
/// ends. Throws Error for an opening that has nothing of its space behind it within 1 m.
std::vector<PortPatch> port_patches(const Room& room, double side = 0.5);

/// Adds to the transfer impedances of the closed rectangle what its openings change.
///
/// A patch moves as a piston, so that the mass of the air that crowds into it (the end correction)
/// is in its own transfer impedance, averaged over its area twice: a double sum over the modes of
/// the wall's plane with the third axis in closed form. Beyond an opening to the open air lies
/// open_air(); a passage to a space is a duct of plane waves, patch by patch, and the space a
/// cuboid with modes of its own. Source for the end correction so found: for a rectangle in a wall
/// it is that of the piston, 8/(3 pi) sqrt(S/pi) and the nearly square alike (Kinsler et al.,
/// Fundamentals of Acoustics, 4th ed., sec. 10.8). Cut finer, the patches leave the flow free to
/// choose its own profile.
template <typename Real>
void add_openings(const Room& room, const Air& air, std::span<const double> frequency,
                  std::span<const Point> sources, std::span<const Point> receivers,
                  TransferImpedance<Real>& z);

}  // namespace boxroom
