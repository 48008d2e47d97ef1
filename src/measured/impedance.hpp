#pragma once
#include <Eigen/Core>
#include <complex>
#include <string>

#include "measured/curve.hpp"

namespace boxroom {

/// A driver's impedance near its resonance:
///   Z(w) = Re + jw Le + K sqrt(jw) + Res/(1 + j Qm (f/fr - fr/f))
/// The last term is the motion (Small, JAES 20(5) 1972, sec. 2); K sqrt(jw) is the part of the
/// coil's inductance that eddy currents in the pole turn into loss (Vanderkooy, JAES 37(3) 1989).
/// In a closed box the same with fr = fc, Qm = Qmc.
struct Circuit {
    double re = 0;         ///< [ohm]
    double motion = 0;     ///< Res [ohm]
    double resonance = 0;  ///< fr [Hz]
    double qm = 0;         ///< mechanical Q
    double le = 0;         ///< [H]
    double semi = 0;       ///< K [ohm sqrt(s)]

    double qe() const { return qm * re / motion; }
    double qt() const { return qm * re / (re + motion); }
    std::complex<double> impedance(double frequency) const;
    /// The plain coil that is as inductive there: Im(jw Le + K sqrt(jw))/w [H].
    double inductance_at(double frequency) const;
};

/// A circuit and how well a curve holds it.
struct CircuitFit {
    Circuit circuit;
    /// (5, 5) of ln Re, ln Res, ln fr, ln Qm and Le [H], with the curve's own scatter, and with
    /// more where neighbouring points err alike.
    Eigen::MatrixXd covariance;
    double freedom = 0;  ///< points beyond the parameters
    double scatter = 0;  ///< RMS of the residual, as a share of |Z|
    Curve used;          ///< what was fitted
};

/// Fits the circuit by least squares on ln|Z| (and the phase, where there is one), each point
/// weighted by the share of an octave that it stands for. Le alone or with K, whichever explains
/// more than it costs (Schwarz's criterion, Annals of Statistics 6, 1978). `name` heads the
/// messages. Throws Error where there are fewer than ten points near the resonance's octaves, no
/// resonance, or a curve that is no closed-box or free-air driver's.
CircuitFit fit_circuit(const Curve& curve, const std::string& name);

}  // namespace boxroom
