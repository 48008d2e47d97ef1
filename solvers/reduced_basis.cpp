#include "solvers/reduced_basis.hpp"

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>

#include "base/parallel.hpp"

namespace boxroom {

using Eigen::MatrixXd;

std::vector<double> training_frequencies(const Training& training) {
    // Chebyshev's points of f^1.5: the basis serves a band best if its ends are well held.
    std::vector<double> at;
    const double low = std::pow(training.lowest, 1.5), high = std::pow(training.highest, 1.5);
    const int first = std::max(training.frequencies - 2, 2);
    for (int n = 0; n < first; ++n) {
        const double x = std::cos(std::numbers::pi * (first - 1 - n) / (first - 1));
        at.push_back(std::pow((low + high) / 2 + (high - low) / 2 * x, 2.0 / 3));
    }
    std::vector<double> sorted = at;
    while (static_cast<int>(at.size()) < training.frequencies) {
        std::size_t widest = 1;
        for (std::size_t n = 1; n < sorted.size(); ++n)
            if (sorted[n] - sorted[n - 1] > sorted[widest] - sorted[widest - 1]) widest = n;
        at.push_back((sorted[widest] + sorted[widest - 1]) / 2);
        sorted.insert(sorted.begin() + static_cast<long>(widest), at.back());
    }
    return at;
}

ReducedBasis::ReducedBasis(const ElementSolver& solver, Training training)
    : training_(std::move(training)) {
    const MatrixXd one = MatrixXd::Ones(solver.unknowns(), 1);
    weight_ = solver.matrices().apply(ElementMatrices::Part::mass, one);
    weight_ = weight_.cwiseMax(1e-6 * weight_.mean());  // where only tips of triangles meet
    add_places(solver, training_.places, training_frequencies(training_), 2);
}

void ReducedBasis::add_places(const ElementSolver& solver, std::span<const Point> places) {
    const auto all = training_frequencies(training_);
    add_places(solver, places, {training_.lowest, training_.highest, all.back()}, 1);
}

void ReducedBasis::add_places(const ElementSolver& solver, std::span<const Point> places,
                              const std::vector<double>& frequency, std::size_t judged) {
    const MatrixXd load = solver.point_values(places);
    const std::size_t rooms = training_.rooms.size();
    std::vector<MatrixXd> solution(frequency.size() * rooms);
    for_each_in_parallel(solution.size(), 1, [&](std::size_t n) {
        solution[n] = solutions_at(solver, load, frequency[n / rooms], training_.rooms[n % rooms]);
    });
    for (std::size_t n = 0; n < solution.size(); ++n) {
        if (n + judged * rooms == solution.size()) before_last_ = functions_.cols();
        add(solution[n]);
        solution[n].resize(0, 0);
    }
}

/// Fields of sources, and the first of their derivatives with k^2: A^-1 M A^-1 M ... A^-1 load.
MatrixXd ReducedBasis::solutions_at(const ElementSolver& solver, const MatrixXd& load,
                                    double frequency, const Room& room) const {
    const NestedFactor factor = solver.factor(frequency, room);
    MatrixXd all(load.rows(), 2 * load.cols() * (1 + training_.derivatives));
    Eigen::MatrixXcd p = load.cast<std::complex<double>>();
    for (int order = 0; order <= training_.derivatives; ++order) {
        p = factor.solve(p);
        for (Eigen::Index s = 0; s < p.cols(); ++s)  // each counts the same
            p.col(s) /= std::sqrt(weight_.dot(p.col(s).cwiseAbs2()));
        const Eigen::Index first = 2 * load.cols() * order;
        all.middleCols(first, p.cols()) = p.real();
        all.middleCols(first + p.cols(), p.cols()) = p.imag();
        if (order == training_.derivatives) break;
        const MatrixXd m = solver.matrices().apply(ElementMatrices::Part::mass,
                                                   all.middleCols(first, 2 * p.cols()));
        p.real() = m.leftCols(p.cols());
        p.imag() = m.rightCols(p.cols());
    }
    return all;
}

/// Adds what the solutions have beside the functions there are, the greatest part first.
void ReducedBasis::add(const MatrixXd& solutions) {
    const double tolerance = training_.tolerance;
    MatrixXd rest = solutions;
    const auto weighted = [this](const MatrixXd& x) { return MatrixXd(weight_.asDiagonal() * x); };
    for (int twice = 0; twice < 2 && functions_.cols() > 0; ++twice)
        rest -= functions_ * (functions_.transpose() * weighted(rest));
    const Eigen::SelfAdjointEigenSolver<MatrixXd> parts(rest.transpose() * weighted(rest));
    std::vector<Eigen::Index> chosen;
    for (Eigen::Index n = rest.cols(); n-- > 0;)
        if (parts.eigenvalues()(n) > tolerance * tolerance) chosen.push_back(n);
    if (chosen.empty()) return;
    MatrixXd fresh(rest.rows(), static_cast<Eigen::Index>(chosen.size()));
    for (std::size_t i = 0; i < chosen.size(); ++i)
        fresh.col(static_cast<Eigen::Index>(i)) =
            rest * parts.eigenvectors().col(chosen[i]) / std::sqrt(parts.eigenvalues()(chosen[i]));
    if (functions_.cols() > 0) fresh -= functions_ * (functions_.transpose() * weighted(fresh));
    for (Eigen::Index n = 0; n < fresh.cols(); ++n) {  // small parts lose digits: once more
        for (Eigen::Index m = 0; m < n; ++m)
            fresh.col(n) -= fresh.col(m) * weight_.cwiseProduct(fresh.col(m)).dot(fresh.col(n));
        fresh.col(n) /= std::sqrt(weight_.dot(fresh.col(n).cwiseAbs2()));
    }
    const Eigen::Index before = functions_.cols();
    functions_.conservativeResize(rest.rows(), before + fresh.cols());
    functions_.rightCols(fresh.cols()) = fresh;
}

ReducedModel ReducedBasis::project(const ElementMatrices& matrices) const {
    using Part = ElementMatrices::Part;
    const auto seen = [this](const MatrixXd& product) {
        const MatrixXd m = functions_.transpose() * product;
        return MatrixXd((m + m.transpose()) / 2);
    };
    ReducedModel model;
    model.stiffness_room = seen(matrices.apply(Part::stiffness_room, functions_));
    model.stiffness_elsewhere = seen(matrices.apply(Part::stiffness_elsewhere, functions_));
    model.mass = seen(matrices.apply(Part::mass, functions_));
    for (int s = 0; s < matrices.mesh().surfaces; ++s)
        model.wall.push_back(matrices.has_wall(s) ? seen(matrices.apply_wall(s, functions_))
                                                  : MatrixXd());
    return model;
}

}  // namespace boxroom
