#pragma once
#include <Eigen/Core>
#include <span>
#include <utility>
#include <vector>

#include "solvers/element_solver.hpp"
#include "solvers/function_blocks.hpp"
#include "solvers/reduced_model.hpp"

namespace boxroom {

/// What a room does at one frequency with sources at some places.
struct FullSolution {
    double frequency = 0;
    Eigen::MatrixXcd field;  ///< A^-1 phi, unknowns x places
    /// Real and imaginary parts of it and of its derivatives with k^2, each of unit mean square.
    Eigen::MatrixXd span;
};

/// What a full solution is asked of: the elements' room, or one with other walls and contents.
struct RoomAt {
    const Room* room = nullptr;
    double frequency = 0;  ///< [Hz]
};

/// One for each of these, on all threads. `air` is that about each unknown [m3]. Factors in single
/// precision, refined once by what is left over (Higham, Accuracy and Stability of Numerical
/// Algorithms, 2002, ch. 12): else what small parts are, and with them the levels, would hang on
/// how a processor rounds. `derivatives` with k^2 cost two back-substitutions each.
std::vector<FullSolution> full_solutions(const ElementSolver& solver, const Eigen::VectorXd& air,
                                         std::span<const RoomAt> asked,
                                         std::span<const Point> places, int derivatives = 2);

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

    /// What the solutions have beside the functions there are; parts of it below 4e-4 are left out.
    void add(std::span<const FullSolution> solutions);
    /// Functions that were kept, (some, unknowns), after those there are.
    void append(Eigen::MatrixXd functions) { functions_.append(std::move(functions)); }
    const FunctionBlocks& functions() const { return functions_; }
    Eigen::Index size() const { return functions_.size(); }
    const Eigen::VectorXd& weight() const { return weight_; }  ///< of each unknown: its air [m3]
    /// The operator between them; `known` is that between the first of them.
    ReducedModel project(const ElementMatrices& matrices, const ReducedModel& known) const;

  private:
    void take_known(Eigen::MatrixXd& x) const;
    Eigen::MatrixXd gram(const Eigen::MatrixXd& x) const;
    Eigen::VectorXd weight_;  ///< of each unknown: the air about it [m3]
    /// In double precision: what single leaves out of the first of them, the small parts of the
    /// later ones are made of, and in a null that is 0.0002 dB and another on each processor.
    FunctionBlocks functions_;
};

}  // namespace boxroom
