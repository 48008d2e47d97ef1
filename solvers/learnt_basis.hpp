#pragma once
#include <Eigen/Core>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "solvers/left_over.hpp"
#include "solvers/reduced_basis.hpp"
#include "solvers/reduced_model.hpp"
#include "solvers/reduced_report.hpp"

namespace boxroom {

/// A room's elements, the functions that span its fields as far as they were learnt, and the
/// operator between these: what a ReducedRoom is made of.
struct LearntBasis {
    Room room;
    Air air;
    double highest;  ///< [Hz]
    std::shared_ptr<const ElementSolver> solver;
    ReducedBasis basis;
    ReducedModel model;
    ReducedModel own;          ///< the same for the room's own walls: equal ones are one
    std::vector<Point> known;  ///< places that the basis has learnt
    ReducedReport report;

    LearntBasis(const Room& r, const Air& a, double top);

    using Progress = std::function<void(double share)>;
    /// See ReducedRoom::learn; false: all were known.
    bool learn(std::span<const Point> places, const Progress& progress);
    /// See ReducedRoom::learn_as.
    void learn_as(std::span<const Room> others, std::span<const Point> places);
    /// See ReducedRoom::be. Throws std::length_error where it has other surfaces.
    void be(const Room& other);
    /// What the pressure at each place is of the functions: one column a place.
    Eigen::MatrixXd seen(std::span<const Point> places) const;
    /// Fields of sources that were seen(): coefficients of the functions.
    Eigen::MatrixXcd fields(double frequency, const Eigen::MatrixXd& load) const {
        return fields(std::span(&frequency, 1), load).front();
    }
    std::vector<Eigen::MatrixXcd> fields(std::span<const double> frequency,
                                         const Eigen::MatrixXd& load) const;

  private:
    void add_until_true(std::span<const Point> places, bool first, const Progress& progress);
    std::vector<double> telling_frequencies() const;
    std::vector<double> least_known(std::span<const Point> places);
    void project();
    double off(const FullSolution& truth, std::span<const Point> places) const;
    LeftOver left_over_;
};

}  // namespace boxroom
