#include "solvers/reduced_basis.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "solvers/dense_algebra.hpp"

namespace boxroom {

using Eigen::MatrixXd;

namespace {

/// The air about each unknown.
Eigen::VectorXd air_about(const ElementSolver& solver) {
    const Eigen::VectorXd air =
        solver.matrices().times_mass(MatrixXd::Ones(solver.unknowns(), 1)).col(0);
    return air.cwiseMax(1e-6 * air.mean());  // where only tips of triangles meet
}

/// Fields of sources, and the first of their derivatives with k^2: A^-1 M A^-1 M ... A^-1 load.
FullSolution full_solution(const ElementSolver& solver, const Room& room, const MatrixXd& load,
                           const Eigen::VectorXd& weight, double frequency, int derivatives) {
    const NestedFactor<float> factor = solver.factor<float>(frequency, room);
    const std::vector<OperatorScales> scales(load.cols(), solver.scales(frequency, room));
    const auto solved = [&](const Eigen::MatrixXcd& right) {
        Eigen::MatrixXcd x = factor.solve(right);
        x += factor.solve(right - solver.matrices().times(scales, x));
        return x;
    };
    FullSolution full{frequency, solved(load.cast<std::complex<double>>()), {}};
    full.span.resize(load.rows(), 2 * load.cols() * (1 + derivatives));
    Eigen::MatrixXcd p = full.field;
    for (int order = 0; order <= derivatives; ++order) {
        if (order > 0) p = solved(p);
        for (Eigen::Index s = 0; s < p.cols(); ++s)  // each counts the same
            p.col(s) /= std::sqrt(weight.dot(p.col(s).cwiseAbs2()));
        const Eigen::Index first = 2 * load.cols() * order;
        full.span.middleCols(first, p.cols()) = p.real();
        full.span.middleCols(first + p.cols(), p.cols()) = p.imag();
        if (order == derivatives) break;
        const MatrixXd m = solver.matrices().times_mass(full.span.middleCols(first, 2 * p.cols()));
        p.real() = m.leftCols(p.cols());
        p.imag() = m.rightCols(p.cols());
    }
    return full;
}

}  // namespace

std::vector<FullSolution> full_solutions(const ElementSolver& solver, const Eigen::VectorXd& air,
                                         std::span<const RoomAt> asked,
                                         std::span<const Point> places, int derivatives) {
    const MatrixXd load = solver.point_values(places);
    std::vector<FullSolution> all(asked.size());
    for_each_in_parallel(all.size(), 1, [&](std::size_t n) {
        all[n] = full_solution(solver, *asked[n].room, load, air, asked[n].frequency, derivatives);
    });
    return all;
}

double frequency_at(double lowest, double highest, double x) {
    const double low = std::pow(lowest, 1.5), high = std::pow(highest, 1.5);
    return std::pow((low + high) / 2 + (high - low) / 2 * x, 2.0 / 3);
}

ReducedBasis::ReducedBasis(const ElementSolver& solver) : weight_(air_about(solver)) {}

/// Some columns a thread; Eigen's own threads wait for each other by spinning.
template <typename Body>
static void for_columns(Eigen::Index columns, const Body& body) {
    constexpr Eigen::Index together = 36;
    for_each_in_parallel(static_cast<std::size_t>((columns + together - 1) / together), 1,
                         [&](std::size_t n) {
                             const Eigen::Index first = static_cast<Eigen::Index>(n) * together;
                             body(first, std::min(together, columns - first));
                         });
}

/// Takes from each column what the functions have of it. They are orthogonal: some at a time.
void ReducedBasis::take_known(MatrixXd& x) const {
    for_columns(x.cols(), [&](Eigen::Index first, Eigen::Index count) {
        auto of_x = x.middleCols(first, count);
        for (const auto& known : functions_.blocks()) {
            const MatrixXd share = *known * MatrixXd(weight_.asDiagonal() * of_x);
            of_x.noalias() -= known->transpose() * share;
        }
    });
}

/// The lower half of x^T W x.
MatrixXd ReducedBasis::gram(const MatrixXd& x) const {
    MatrixXd product(x.cols(), x.cols());
    for_columns(x.cols(), [&](Eigen::Index first, Eigen::Index count) {
        const MatrixXd weighed = weight_.asDiagonal() * x.middleCols(first, count);
        const Eigen::Index below = x.cols() - first;
        product.block(first, first, below, count).noalias() =
            x.rightCols(below).transpose() * weighed;
    });
    return product;
}

void ReducedBasis::add(std::span<const FullSolution> solutions) {
    constexpr double tolerance = 4e-4;
    Eigen::Index columns = 0;
    std::vector<Eigen::Index> first_of;
    for (const FullSolution& solution : solutions) {
        first_of.push_back(columns);
        columns += solution.span.cols();
    }
    MatrixXd rest(weight_.size(), columns);
    for_each_in_parallel(solutions.size(), 1, [&](std::size_t n) {
        rest.middleCols(first_of[n], solutions[n].span.cols()) = solutions[n].span;
    });
    take_known(rest);
    const SymmetricParts parts = symmetric_parts(gram(rest));
    Eigen::Index small = 0;
    while (small < columns && parts.value(small) <= tolerance * tolerance) ++small;
    if (small == columns) return;
    const Eigen::VectorXd size = parts.value.tail(columns - small).reverse().cwiseSqrt();
    // The greatest part first.
    const MatrixXd chosen = parts.vector.rightCols(columns - small).rowwise().reverse() *
                            size.cwiseInverse().asDiagonal();
    MatrixXd fresh(rest.rows(), chosen.cols());
    for_columns(fresh.cols(), [&](Eigen::Index first, Eigen::Index count) {
        fresh.middleCols(first, count).noalias() = rest * chosen.middleCols(first, count);
    });
    // The smallest of them lose four digits, which leaves them twelve of being apart from the
    // others; from each other they are parted once more.
    const MatrixXd upright = upper_inverse_root(gram(fresh));
    MatrixXd orthonormal(fresh.cols(), fresh.rows());
    constexpr Eigen::Index together = 512;
    for_each_in_parallel((fresh.rows() + together - 1) / together, 1, [&](std::size_t n) {
        const Eigen::Index first = static_cast<Eigen::Index>(n) * together,
                           count = std::min(together, fresh.rows() - first);
        orthonormal.middleCols(first, count).noalias() =
            upright.transpose() * fresh.middleRows(first, count).transpose();
    });
    append(std::move(orthonormal));
}

ReducedModel ReducedBasis::project(const ElementMatrices& matrices,
                                   const ReducedModel& known) const {
    const Eigen::Index size = this->size(), first = known.size();
    if (size == first) return known;  // the last solutions had nothing to add
    const std::vector<MatrixXd> fresh = matrices.between(functions_.after(first), functions_);
    const auto grown = [&](const MatrixXd& old, const MatrixXd& rows) {
        MatrixXd all = MatrixXd::Zero(size, size);
        if (rows.size() == 0) return all;
        if (first > 0) all.topLeftCorner(first, first) = old;
        all.bottomRows(size - first) = rows;
        all.topRightCorner(first, size - first) = rows.leftCols(first).transpose();
        const auto corner = all.bottomRightCorner(size - first, size - first);
        all.bottomRightCorner(size - first, size - first) =
            MatrixXd((corner + corner.transpose()) / 2);
        return all;
    };
    ReducedModel model{grown(known.stiffness_room, fresh[0]),
                       grown(known.stiffness_elsewhere, fresh[1]),
                       grown(known.mass, fresh[2]),
                       {}};
    for (std::size_t n = 3; n < fresh.size(); ++n)
        model.wall.push_back(fresh[n].size() == 0
                                 ? MatrixXd()
                                 : grown(first > 0 ? known.wall[n - 3] : MatrixXd(), fresh[n]));
    return model;
}

}  // namespace boxroom
