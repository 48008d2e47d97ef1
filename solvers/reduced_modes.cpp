#include "solvers/reduced_modes.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

using Complex = std::complex<double>;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::VectorXcd;

namespace {

/// dA/dw by differences: A is smooth, and walls' resonances are wider than this.
OperatorScales slope_of(const ScalesAt& scales_at, Complex omega) {
    const double step = 1e-5 * std::abs(omega);
    const OperatorScales above = scales_at(omega + step), below = scales_at(omega - step);
    const auto slope = [step](Complex a, Complex b) { return (a - b) / (2 * step); };
    OperatorScales d;
    d.stiffness_room = slope(above.stiffness_room, below.stiffness_room);
    d.stiffness_elsewhere = slope(above.stiffness_elsewhere, below.stiffness_elsewhere);
    d.mass = slope(above.mass, below.mass);
    for (std::size_t s = 0; s < above.wall.size(); ++s)
        d.wall.push_back(slope(above.wall[s], below.wall[s]));
    return d;
}

/// Those up to k^2, as columns.
MatrixXd rigid_modes_up_to(const ReducedModel& model, double highest_k2) {
    const SymmetricParts rigid = rigid_modes(model);
    Eigen::Index count = 0;
    while (count < model.size() && rigid.value(count) < highest_k2) ++count;
    return rigid.vector.leftCols(count);
}

ReducedModel between(const ReducedModel& model, const MatrixXd& functions) {
    const auto seen = [&](const MatrixXd& m) {
        return m.size() == 0 ? MatrixXd() : MatrixXd(functions.transpose() * m * functions);
    };
    ReducedModel smaller{
        seen(model.stiffness_room), seen(model.stiffness_elsewhere), seen(model.mass), {}};
    for (const MatrixXd& wall : model.wall) smaller.wall.push_back(seen(wall));
    return smaller;
}

/// Where the search begins, with shapes of the small model, whose mass is 1.
std::vector<FreeField> beginnings(const ReducedModel& model, const ScalesAt& scales_at,
                                  double speed, double lowest, double highest) {
    constexpr double width = 1.5, overlap = 1.05;
    std::vector<double> middle;
    for (double from = lowest; from < highest; from *= width)
        middle.push_back(from * std::sqrt(width));
    std::vector<std::vector<FreeField>> found(middle.size());
    for_each_in_parallel(middle.size(), 1, [&](std::size_t n) {
        OperatorScales scales = scales_at(middle[n]);
        scales.mass = 0;
        MatrixXcd a = model.lower_half(scales);
        a.triangularView<Eigen::StrictlyUpper>() = a.transpose();
        const ComplexParts free = complex_parts(a, true);
        const double reach = std::sqrt(width) * overlap;
        for (Eigen::Index m = 0; m < free.value.size(); ++m) {
            Complex omega = speed * std::sqrt(free.value(m));
            if (omega.real() < 0) omega = -omega;
            if (omega.real() > middle[n] / reach && omega.real() < middle[n] * reach)
                found[n].push_back({omega, free.vector.col(m), 0});
        }
    });
    std::vector<FreeField> all;
    for (auto& some : found) all.insert(all.end(), some.begin(), some.end());
    return all;
}

/// To the free oscillation near by: an inverse iteration, then some of what is left over, which the
/// same factor serves (Neumaier, SIAM J. Numer. Anal. 22, 1985), w going to where the shape gives
/// nothing, v^T A(w) v = 0: of the second order in what the shape is off. A new factor where that
/// is slow; false where it leads nowhere.
bool settle(const ReducedModel& model, const ScalesAt& scales_at, FreeField& free) {
    constexpr int factors = 6, steps = 6;
    double moved = 1;
    for (int n = 0; n < factors && !(moved < 1e-9); ++n) {
        MatrixXcd a = model.lower_half(scales_at(free.omega));
        const SymmetricElimination<double> factor(a, a.rows());
        const auto solved = [&factor](MatrixXcd v) {
            factor.forwards(v);
            factor.backwards(v);
            return v;
        };
        const OperatorScales slope = slope_of(scales_at, free.omega);
        free.shape = solved(model.times(slope, free.shape)).col(0).normalized();
        const MatrixXcd by_w = model.times(slope, free.shape);
        free.slope = (free.shape.transpose() * by_w)(0);
        for (int step = 0; step < steps; ++step) {
            MatrixXcd rest = model.times(scales_at(free.omega), free.shape);
            const Complex by = (free.shape.transpose() * rest)(0) / free.slope;
            free.omega -= by;
            moved = std::abs(by) / std::abs(free.omega);
            if (!(moved < 0.5)) return false;
            if (moved < 1e-9) break;
            free.shape -= solved(rest - by * by_w).col(0);
            free.shape.normalize();
        }
    }
    free.slope =
        (free.shape.transpose() * model.times(slope_of(scales_at, free.omega), free.shape))(0);
    return moved < 1e-9;
}

/// Whether two are one: modes of a square room share a frequency, but not a shape.
bool same(const FreeField& a, const FreeField& b) {
    return std::abs(a.omega - b.omega) < 1e-5 * std::abs(a.omega) &&
           std::abs(a.shape.dot(b.shape)) > 0.9;
}

}  // namespace

SymmetricParts rigid_modes(const ReducedModel& model) {
    return symmetric_parts(model.stiffness_room + model.stiffness_elsewhere, model.mass);
}

std::vector<FreeField> free_fields(const ReducedModel& model, const ScalesAt& scales_at,
                                   double speed, double highest) {
    constexpr double margin = 1.4;  // of the small model, and how far walls lift a mode at most
    const MatrixXd rigid = rigid_modes_up_to(model, std::pow(margin * highest / speed, 2));
    if (rigid.cols() == 0) return {};
    const ReducedModel small = between(model, rigid);
    std::vector<FreeField> all = beginnings(small, scales_at, speed, highest / 20, highest * 1.1);
    std::vector<char> found(all.size(), 0);
    for_each_in_parallel(all.size(), 1, [&](std::size_t n) {
        FreeField& free = all[n];
        if (!settle(small, scales_at, free)) return;
        free.shape = rigid.cast<Complex>() * free.shape;
        found[n] = settle(model, scales_at, free);
    });
    std::vector<FreeField> distinct;
    for (std::size_t n = 0; n < all.size(); ++n) {
        const Complex omega = all[n].omega;
        if (!found[n] || omega.real() <= 0 || omega.real() > highest || omega.imag() <= 0 ||
            omega.real() < omega.imag())
            continue;
        if (std::ranges::none_of(distinct, [&](const FreeField& d) { return same(d, all[n]); }))
            distinct.push_back(all[n]);
    }
    std::ranges::sort(distinct, {}, [](const FreeField& free) { return free.omega.real(); });
    return distinct;
}

}  // namespace boxroom
