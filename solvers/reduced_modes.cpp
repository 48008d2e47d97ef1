#include "solvers/reduced_modes.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

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

constexpr double margin = 1.4;  ///< of a small model: how far walls lift a mode at most

/// How many rigid modes [k^2] tell of free oscillations up to w = `highest`.
Eigen::Index telling(const Eigen::VectorXd& rigid, double highest, double speed) {
    const double k = margin * highest / speed;
    return std::lower_bound(rigid.begin(), rigid.end(), k * k) - rigid.begin();
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

/// Where the search begins, with shapes of the small model of these rigid modes, whose mass is 1.
std::vector<FreeField> beginnings(const ReducedModel& model, const Eigen::VectorXd& rigid,
                                  const ScalesAt& scales_at, double speed, double lowest,
                                  double highest) {
    constexpr double width = 1.5, overlap = 1.05;
    std::vector<double> middle;
    for (double from = lowest; from < highest; from *= width)
        middle.push_back(from * std::sqrt(width));
    std::reverse(middle.begin(), middle.end());  // the longest work first
    std::vector<std::vector<FreeField>> found(middle.size());
    for_each_in_parallel(middle.size(), 1, [&](std::size_t n) {
        const double reach = std::sqrt(width) * overlap;
        OperatorScales scales = scales_at(middle[n]);
        scales.mass = 0;
        const Eigen::Index count = telling(rigid, middle[n] * reach, speed);
        const MatrixXcd a = whole_symmetric(model.lower_half(scales)).topLeftCorner(count, count);
        const ComplexParts free = complex_parts(a, true);
        VectorXcd shape = VectorXcd::Zero(model.size());
        for (Eigen::Index m = 0; m < free.value.size(); ++m) {
            Complex omega = speed * std::sqrt(free.value(m));
            if (omega.real() < 0) omega = -omega;
            shape.head(count) = free.vector.col(m);
            if (omega.real() > middle[n] / reach && omega.real() < middle[n] * reach)
                found[n].push_back({omega, shape, 0});
        }
    });
    std::vector<FreeField> all;
    for (auto& some : found) all.insert(all.end(), some.begin(), some.end());
    return all;
}

/// To the free oscillation near by: an inverse iteration, then some of what is left over, which the
/// same factor serves (Neumaier, SIAM J. Numer. Anal. 22, 1985), w going to where the shape gives
/// nothing, v^T A(w) v = 0: of the second order in what the shape is off. A new factor where that
/// is slow, until w moves by less than a share `still`; false where it leads nowhere. Never to one
/// of the others, of whose shapes nothing is left in it: v^T A' v = 0 between neighbours.
bool settle(const ReducedModel& model, const ScalesAt& scales_at, double still,
            std::span<const FreeField* const> others, FreeField& free) {
    constexpr int factors = 6, steps = 6;
    double moved = 1;
    const auto part_from_others = [&](VectorXcd& shape) {
        if (others.empty()) return;
        const MatrixXcd by_w = model.times(slope_of(scales_at, free.omega), shape);
        for (const FreeField* other : others)
            shape -= other->shape * ((other->shape.transpose() * by_w)(0) / other->slope);
    };
    for (int n = 0; n < factors && !(moved < still); ++n) {
        auto a = model.lower_half(scales_at(free.omega));
        const SymmetricElimination<double> factor(a, a.rows());
        // What A changes by is the mass above all, and an inverse iteration asks for no more.
        free.shape = factor.solved(model.mass * free.shape).col(0);
        part_from_others(free.shape);
        free.shape.normalize();
        const MatrixXcd by_w = model.times(slope_of(scales_at, free.omega), free.shape);
        free.slope = (free.shape.transpose() * by_w)(0);
        for (int step = 0; step < steps; ++step) {
            MatrixXcd rest = model.times(scales_at(free.omega), free.shape);
            const Complex by = (free.shape.transpose() * rest)(0) / free.slope;
            free.omega -= by;
            moved = std::abs(by) / std::abs(free.omega);
            if (!(moved < 0.5)) return false;
            if (moved < still) break;
            free.shape -= factor.solved(rest - by * by_w).col(0);
            part_from_others(free.shape);
            free.shape.normalize();
        }
    }
    free.slope =
        (free.shape.transpose() * model.times(slope_of(scales_at, free.omega), free.shape))(0);
    return moved < still;
}

/// Whether two are one: modes of a square room share a frequency, but not a shape.
bool same(const FreeField& a, const FreeField& b) {
    return std::abs(a.omega - b.omega) < 1e-5 * std::abs(a.omega) &&
           std::abs(a.shape.dot(b.shape)) > 0.9;
}

/// Where some lead, each once. Of neighbours two may lead to the same, or one to nowhere: such are
/// sent again and kept from those that were found.
std::vector<FreeField> settled(const ReducedModel& model, const ScalesAt& scales_at, double still,
                               const std::vector<FreeField>& begun) {
    constexpr double near = 0.02;
    std::vector<FreeField> found;
    std::vector<const FreeField*> second;
    const auto add = [&](const FreeField& free) {
        const bool is_new =
            std::ranges::none_of(found, [&](const FreeField& other) { return same(other, free); });
        if (is_new) found.push_back(free);
        return is_new;
    };
    const auto all_settled = [&](const std::vector<const FreeField*>& from, const auto& others) {
        std::vector<std::pair<FreeField, bool>> all(from.size());
        for_each_in_parallel(all.size(), 1, [&](std::size_t n) {
            all[n].first = *from[n];
            all[n].second = settle(model, scales_at, still, others(*from[n]), all[n].first);
        });
        return all;
    };
    std::vector<const FreeField*> first;
    for (const FreeField& free : begun) first.push_back(&free);
    const auto none = [](const FreeField&) { return std::vector<const FreeField*>(); };
    const auto all = all_settled(first, none);
    for (std::size_t n = 0; n < all.size(); ++n)
        if (!all[n].second || !add(all[n].first)) second.push_back(first[n]);
    const auto neighbours = [&](const FreeField& free) {
        std::vector<const FreeField*> some;
        for (const FreeField& other : found)
            if (std::abs(other.omega - free.omega) < near * std::abs(free.omega))
                some.push_back(&other);
        return some;
    };
    // Without the others' help it has to stay where it is.
    std::vector<const FreeField*> apart;
    const auto led_apart = all_settled(second, neighbours);
    for (const auto& [free, leads] : led_apart)
        if (leads) apart.push_back(&free);
    for (const auto& [free, leads] : all_settled(apart, none))
        if (leads) add(free);
    return found;
}

/// Leaves those that swing up to `highest` [rad/s] and by more than this share of their decay.
void keep_swinging(std::vector<FreeField>& all, double highest, double share) {
    std::erase_if(all, [=](const FreeField& free) {
        const double swing = free.omega.real(), decay = free.omega.imag();
        return !(swing > 0 && swing <= highest && decay > 0 && swing >= share * decay);
    });
}

}  // namespace

SymmetricParts rigid_modes(const ReducedModel& model) {
    return symmetric_parts(model.stiffness_room + model.stiffness_elsewhere, model.mass);
}

std::vector<FreeField> free_fields(const ReducedModel& model, const ScalesAt& scales_at,
                                   double speed, double highest) {
    const SymmetricParts rigid = rigid_modes(model);
    const Eigen::Index count = telling(rigid.value, highest, speed);
    if (count == 0) return {};
    const MatrixXd functions = rigid.vector.leftCols(count);
    const ReducedModel small = between(model, functions);
    constexpr double rough = 1e-6, fine = 1e-8;
    std::vector<FreeField> all = settled(
        small, scales_at, rough,
        beginnings(small, rigid.value.head(count), scales_at, speed, highest / 20, highest * 1.1));
    // What the small model says of them is off by a few thousandths.
    keep_swinging(all, 1.05 * highest, 0.9);
    for (FreeField& free : all) free.shape = functions.cast<Complex>() * free.shape;
    all = settled(model, scales_at, fine, all);
    keep_swinging(all, highest, 1);
    std::ranges::sort(all, {}, [](const FreeField& free) { return free.omega.real(); });
    return all;
}

}  // namespace boxroom
