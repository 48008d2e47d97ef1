#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/element_solver.hpp"
#include "solvers/reduced_model.hpp"

namespace boxroom {

/// What a basis is made from.
struct Training {
    std::vector<Point> places;  ///< of sources: seats, and places over the floor
    std::vector<Room> rooms;    ///< the same shape, with the walls to be told apart; at least one
    double lowest = 15, highest = 150;  ///< [Hz]
    int frequencies = 6;                ///< full solutions of each room; at least 4
    int derivatives = 2;                ///< with k^2, that each factor gives besides
    double tolerance = 1e-4;  ///< parts of a solution smaller than this share are left out
};

/// Functions that span the fields of a room: full solutions from a few places at a few frequencies,
/// real and imaginary parts, made orthogonal (reduced basis: Quarteroni, Manzoni & Negri, Reduced
/// Basis Methods for Partial Differential Equations, 2016; for rooms Llopis, Jeong & Engsig-Karup,
/// JASA 152, 2022). The space grows solution by solution; what the last ones added is what is still
/// missing, at most.
class ReducedBasis {
  public:
    /// Full solutions for training, on all threads.
    ReducedBasis(const ElementSolver& solver, Training training);
    /// More places, of which three frequencies tell enough: what resonates is there already.
    void add_places(const ElementSolver& solver, std::span<const Point> places);

    const Eigen::MatrixXd& functions() const { return functions_; }  ///< unknowns x size
    /// Size before the last full solutions of each room were added (two of the first places, one of
    /// more): what they changed is an estimate of what is left, and on the safe side.
    Eigen::Index before_last() const { return before_last_; }
    /// The operator between them.
    ReducedModel project(const ElementMatrices& matrices) const;

  private:
    void add_places(const ElementSolver& solver, std::span<const Point> places,
                    const std::vector<double>& frequency, std::size_t judged);
    Eigen::MatrixXd solutions_at(const ElementSolver& solver, const Eigen::MatrixXd& load,
                                 double frequency, const Room& room) const;
    void add(const Eigen::MatrixXd& solutions);
    Training training_;
    Eigen::VectorXd weight_;  ///< of each unknown: the air about it [m3]
    Eigen::MatrixXd functions_;
    Eigen::Index before_last_ = 0;
};

/// The frequencies of the full solutions: closer together above, where modes are; the last two are
/// in the widest gaps, to judge by.
std::vector<double> training_frequencies(const Training& training);

}  // namespace boxroom
