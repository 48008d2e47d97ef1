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

/// One way for the air in an opening to move: with the velocity w/S cos(m pi s/a) cos(n pi t/b), s
/// and t being its sides a and b. The lowest is a piston.
struct Port {
    int cuboid = 0;    ///< 0: the room; 1 + n: space n
    int wall = 0;      ///< of the cuboid, a WallIndex
    Point low, high;   ///< in the cuboid's own coordinates; equal along the wall's axis
    int m = 0, n = 0;  ///< along the axes that follow the wall's own
    int twin = -1;     ///< the port at the other end of the passage; -1: the open air
    double depth = 0;  ///< of the passage [m]
    double area() const;
    double mean_square() const { return (m ? 0.5 : 1) * (n ? 0.5 : 1); }  ///< of the cosines
    double wave_number_squared() const;                                   ///< (m pi/a)^2 + ...
};

/// The openings of a rectangle as ports, those with a wave number up to `highest` [1/m]; a passage
/// has its ports at both ends. Throws Error for an opening that has nothing of its space behind it
/// within 1 m.
std::vector<Port> ports_of(const Room& room, double highest = 12);

/// Adds to the transfer impedances of the closed rectangle what its openings change.
///
/// The mass of the air that crowds into an opening (its end correction) is in the port's own
/// transfer impedance, averaged over its area twice; that of a piston and 8/(3 pi) sqrt(S/pi) are
/// nearly the same (Kinsler et al., Fundamentals of Acoustics, 4th ed., sec. 10.8). The higher
/// ports let the flow find its own profile, of less mass. Beyond an opening to the open air lies
/// open_air(); a passage to a space is a rigid duct with the ports for its modes (Morse & Ingard,
/// Theoretical Acoustics, 1968, sec. 9.2), and the space a cuboid with modes of its own.
template <typename Real>
void add_openings(const Room& room, const Air& air, std::span<const double> frequency,
                  std::span<const Point> sources, std::span<const Point> receivers,
                  TransferImpedance<Real>& z);

}  // namespace boxroom
