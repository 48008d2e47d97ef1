#pragma once
#include <array>
#include <complex>

#include "solvers/axis_modes.hpp"
#include "solvers/modal.hpp"

namespace boxroom {

/// One mode of a rectangle as it answers a steady tone: its own term of the room's sum.
///
///   Z_N = j w rho s psi_N(x) psi_N(x')/(Lambda_N (sum_a q_a^2 - k^2 s)),
/// psi_N and Lambda_N products over the axes (Morse & Ingard, Theoretical Acoustics, 1968, ch. 9),
/// s = 1 - 2j delta/w from the room's contents. Everything at the mode's own frequency, where the
/// term peaks. Openings are taken as shut.
class ModeShape {
  public:
    /// Throws Error for a room that is no rectangle.
    ModeShape(const Room& room, const Air& air, const Mode& mode);

    /// psi_N at a point of the room; 1 in the rigid room's corner at the origin.
    std::complex<double> at(const Point& point) const;
    /// Z_N = transfer() psi_N(source) psi_N(receiver) [Pa s/m3].
    std::complex<double> transfer() const { return transfer_; }

  private:
    std::array<AxisProblem, 3> axis_;
    std::array<std::complex<double>, 3> q2_;
    std::complex<double> transfer_;
};

}  // namespace boxroom
