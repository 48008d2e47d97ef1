#pragma once
#include <Eigen/Core>
#include <complex>
#include <functional>
#include <vector>

#include "solvers/dense_algebra.hpp"
#include "solvers/reduced_model.hpp"

namespace boxroom {

/// K v = k^2 M v: what the room's modes would be with rigid walls and nothing in it.
SymmetricParts rigid_modes(const ReducedModel& model);

/// A free oscillation e^{j w t} seen by a reduced model: A(w) shape = 0.
struct FreeField {
    std::complex<double> omega;  ///< [rad/s]; Im > 0, since it decays
    Eigen::VectorXcd shape;      ///< of the model's functions
    std::complex<double> slope;  ///< shape^T dA/dw shape
};

/// What A is made of at a complex frequency w [rad/s].
using ScalesAt = std::function<OperatorScales(std::complex<double>)>;

/// Those with Re w between 0 and `highest` [rad/s] that swing at least once before they have
/// decayed by e^-pi (Q of 1/2), sorted.
///
/// The rigid room's modes span a smaller model; with the walls' admittances and the contents at the
/// middle of each half octave as constants its eigenvalues k^2 are where the search begins, and
/// Newton's steps on the Rayleigh functional, between residual inverse iterations with one factor,
/// lead to w (Guettel & Tisseur, Acta Numerica 26, 2017, sec. 4): in the small model, then in the
/// whole one.
/// `speed` [m/s] of sound: w = c k.
std::vector<FreeField> free_fields(const ReducedModel& model, const ScalesAt& scales_at,
                                   double speed, double highest);

}  // namespace boxroom
