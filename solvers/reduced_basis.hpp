#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/element_solver.hpp"
#include "solvers/reduced_model.hpp"

namespace boxroom {

/// What a room does at one frequency with sources at some places.
struct FullSolution {
    double frequency = 0;
    Eigen::MatrixXcd field;  ///< A^-1 phi, unknowns x places
    /// Real and imaginary parts of it and of its derivatives with k^2, each of unit mean square.
    Eigen::MatrixXd span;
};

/// One a frequency, on all threads. Factors in single precision, refined once by what is left over
/// (Higham, Accuracy and Stability of Numerical Algorithms, 2002, ch. 12): else what small
/// parts are, and with them the levels, would hang on how a processor rounds. `derivatives` with
/// k^2 cost two back-substitutions each.
std::vector<FullSolution> full_solutions(const ElementSolver& solver, const Room& room,
                                         std::span<const Point> places,
                                         std::span<const double> frequency, int derivatives = 2);

/// Where f^1.5 is at x, -1 .. 1, between its values at two frequencies [Hz]: with x the cosine of
/// angles in equal steps, Chebyshev's points, closer together above, where modes are.
double frequency_at(double lowest, double highest, double x);

/// Functions that span the fields of a room: full solutions from a few places at a few frequencies,
/// real and imaginary parts, made orthogonal (reduced basis: Quarteroni, Manzoni & Negri, Reduced
/// Basis Methods for Partial Differential Equations, 2016; for rooms Llopis, Jeong & Engsig-Karup,
/// JASA 152, 2022; derivatives: Hermite's way of it, ch. 7 there).
class ReducedBasis {
  public:
    explicit ReducedBasis(const ElementSolver& solver);
    /// One that was kept.
    ReducedBasis(const ElementSolver& solver, Eigen::MatrixXf functions);

    /// What the solution has beside the functions there are; parts of it below 4e-4 are left out.
    void add(const FullSolution& solution);
    const Eigen::MatrixXf& functions() const { return functions_; }  ///< unknowns x size
    const Eigen::VectorXd& weight() const { return weight_; }  ///< of each unknown: its air [m3]
    Eigen::MatrixXf across() const;  ///< the same, those of one unknown side by side in a column
    /// The operator between them, who are also given as across(); `known` is that between the first
    /// of them.
    ReducedModel project(const ElementMatrices& matrices, const Eigen::MatrixXf& across,
                         const ReducedModel& known) const;

  private:
    void take_known(Eigen::MatrixXd& x) const;
    Eigen::VectorXd weight_;  ///< of each unknown: the air about it [m3]
    /// In single precision: what they are does not matter, as long as all that is made of them is
    /// made of the same.
    Eigen::MatrixXf functions_;
};

}  // namespace boxroom
