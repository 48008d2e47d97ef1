#pragma once
#include <complex>
#include <vector>

namespace boxroom {

/// One axis of a rectangular room at one frequency: psi'' + q^2 psi = 0 on 0 <= x <= length with
/// locally reacting ends, -psi'(0) = -j k b0 psi(0) and psi'(L) = -j k b1 psi(L).
struct AxisProblem {
    double length = 0;            ///< L [m]
    std::complex<double> k;       ///< w/c [1/m]
    std::complex<double> b0, b1;  ///< specific admittances of the two ends
};

/// The lowest `count` eigenvalues q^2 [1/m2], in the order of the rigid-wall modes they grow out
/// of.
///
/// They are the roots of F(q^2) = (q^2 + k^2 b0 b1) sin(qL)/q - j k (b0 + b1) cos(qL), which is
/// tan(qL) = j k q (b0 + b1)/(q^2 + k^2 b0 b1) (Morse & Ingard, Theoretical Acoustics, 1968, ch. 9)
/// written without a pole. Found by Newton's method with mutual repulsion (Aberth, Math. Comp. 27,
/// 1973) from the first-order values; the set is then checked to be complete with the sum rule
/// F'/F(mu) = sum_n 1/(mu - q_n^2), and recomputed from a Legendre-Galerkin matrix if it is not.
/// Throws NumericalFailure if even that does not satisfy the sum rule.
std::vector<std::complex<double>> axis_eigenvalues(const AxisProblem& axis, int count);

/// The root of F that Newton's method reaches from `near`, whichever that is; for following one
/// eigenvalue as k and the ends change a little. axis_eigenvalues says which one it has become.
std::complex<double> axis_eigenvalue_near(const AxisProblem& axis, std::complex<double> near);

/// psi(x) = cos(qx) + j k b0 sin(qx)/q for the eigenvalue q2 = q^2.
std::complex<double> axis_function(const AxisProblem& axis, std::complex<double> q2, double x);

/// Lambda = int_0^L psi^2 dx (no conjugate: the modes are orthogonal in this bilinear sense).
std::complex<double> axis_norm(const AxisProblem& axis, std::complex<double> q2);

/// G(x, x'), the solution of G'' + kappa^2 G = -delta(x - x') with the same ends, in closed form:
/// e^{-j kappa d} (1 + R0 e^{-2j kappa x<}) (1 + R1 e^{-2j kappa (L - x>)}) / (2 j kappa (1 - R0 R1
/// e^{-2j kappa L})), R = (kappa - k b)/(kappa + k b), Im kappa <= 0: every exponential decays.
std::complex<double> axis_green(const AxisProblem& axis, std::complex<double> kappa_squared,
                                double x, double x_prime);

/// The same for several pairs of points at one kappa: what does not depend on them is kept.
class AxisGreen {
  public:
    AxisGreen(const AxisProblem& axis, std::complex<double> kappa_squared);
    std::complex<double> operator()(double x, double x_prime) const;
    /// G(x, x') = below(x<) above(x>), for many points on one axis. Unlike G itself the factors
    /// grow, to e^{|Im kappa| L}: only while |Im kappa| L stays below 350.
    std::complex<double> below(double x) const;
    std::complex<double> above(double x) const;

  private:
    double length_;
    std::complex<double> r0_, r1_, minus_j_kappa_, scale_;
};

}  // namespace boxroom
