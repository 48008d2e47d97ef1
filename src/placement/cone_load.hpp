#pragma once
#include <complex>
#include <span>
#include <vector>

#include "base/by_frequency.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// The room's impedance on the cones of `subs` (F,P,Q): mean pressure on cone p for unit volume
/// velocity of cone q [Pa s/m3], less the mass of air that the driver's Mms holds already.
///
/// A point source has infinite pressure at itself, but only through j w rho/(4 pi r), the reactance
/// of the air close by, which a data sheet counts with the moving mass (Small, JAES 20(5) 1972).
/// Without it the pressure is finite: that of the source's images and modes. Taken as the mean over
/// a sphere of radius r about the source, six points on the axes,
///   Z = (<Z_room> - j w rho e^{-jkr}/(4 pi r)) kr/sin kr + rho c k^2/(4 pi);
/// sin kr/kr turns a mean of waves from elsewhere into their value at the centre (mean value
/// theorem of the Helmholtz equation; Courant & Hilbert, Methods of Mathematical Physics II, ch. 4)
/// and the last term is the resistance of a pulsating source (Kinsler et al., Fundamentals of
/// Acoustics, ch. 7). Holds while the box is small against the wavelength. Points beyond a wall of
/// the rectangle are folded back into it, as the image is. A grid's near field is not quite that of
/// a point: its reactance is off by a mass below 0.15 kg/m4, 0.2 g on a cone of 340 cm2.
ByFrequency<std::complex<double>> cone_impedance(const Scenario& scenario,
                                                 const std::vector<PlacedSub>& subs,
                                                 const std::vector<double>& frequency);

/// The same if the file asks for it and the driver is known well enough, else empty.
ByFrequency<std::complex<double>> asked_cone_impedance(const Scenario& scenario,
                                                       const Driver& driver,
                                                       const std::vector<PlacedSub>& subs,
                                                       const std::vector<double>& frequency);

/// The volume velocities (F,Q) with that impedance on the cones: each yields Y = Sd^2 Ze/(Ze Zm +
/// Bl^2) to the pressure on it, so that U = (1 + Y Z)^-1 U_free, Q x Q for each frequency. The
/// amplifier's output has no impedance of its own. Absolute drivers only. Throws std::length_error
/// where the shapes do not fit each other.
ByFrequency<std::complex<double>> loaded_cones(const Driver& driver,
                                               const std::vector<ClosedBox>& boxes, const Air& air,
                                               std::span<const double> frequency,
                                               const ByFrequency<std::complex<double>>& impedance,
                                               const ByFrequency<std::complex<double>>& free);

}  // namespace boxroom
