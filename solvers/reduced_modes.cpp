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

/// To the free oscillations near by: an inverse iteration, then some of what is left over, which
/// the same factor serves (Neumaier, SIAM J. Numer. Anal. 22, 1985), w going to where the shape
/// gives nothing, v^T A(w) v = 0: of the second order in what the shape is off. A new factor where
/// that is slow, until w moves by less than a share `still`. Some at a time, so that what the
/// operator is made of is read once for all of them.
class Settling {
  public:
    /// Never to one of the others, of whose shapes nothing is left in it: v^T A' v = 0 between
    /// neighbours.
    struct One {
        FreeField free;
        std::vector<const FreeField*> others;
        double moved = 1;
        bool lost = false;  ///< it leads nowhere
    };

    Settling(const ReducedModel& model, const ScalesAt& scales_at, double still)
        : model_(model), scales_at_(scales_at), still_(still) {}

    void settle(std::span<One> all) const {
        constexpr int factors = 6;
        std::vector<One*> moving;
        for (One& one : all) moving.push_back(&one);
        for (int n = 0; n < factors && !moving.empty(); ++n) {
            with_new_factors(moving);
            std::erase_if(moving, [this](const One* one) { return at_rest(*one); });
        }
        for (One* one : moving) one->lost = true;
        std::vector<One*> found;
        for (One& one : all)
            if (!one.lost) found.push_back(&one);
        set_slopes(found);
    }

  private:
    bool at_rest(const One& one) const { return one.lost || one.moved < still_; }

    /// A of each at its w, or what A changes by with w, times its shape.
    template <typename Scales>
    MatrixXcd times(const std::vector<One*>& some, const Scales& scales_of) const {
        std::vector<OperatorScales> scales;
        for (const One* one : some) scales.push_back(scales_of(one->free.omega));
        return model_.times(scales, shapes(some));
    }
    MatrixXcd shapes(const std::vector<One*>& some) const {
        MatrixXcd all(model_.size(), static_cast<Eigen::Index>(some.size()));
        for (Eigen::Index n = 0; n < all.cols(); ++n) all.col(n) = some[n]->free.shape;
        return all;
    }
    /// v^T A' v; what A' v is.
    MatrixXcd set_slopes(const std::vector<One*>& some) const {
        if (some.empty()) return {};
        MatrixXcd by_w = times(some, [this](Complex omega) { return slope_of(scales_at_, omega); });
        for (std::size_t n = 0; n < some.size(); ++n)
            some[n]->free.slope = (some[n]->free.shape.transpose() * by_w.col(n))(0);
        return by_w;
    }
    void part_from_others(One& one) const {
        FreeField& free = one.free;
        if (!one.others.empty()) {
            const OperatorScales scales = slope_of(scales_at_, free.omega);
            const VectorXcd by_w = model_.times({&scales, 1}, free.shape);
            for (const FreeField* other : one.others)
                free.shape -= other->shape * ((other->shape.transpose() * by_w)(0) / other->slope);
        }
        free.shape.normalize();
    }

    void with_new_factors(const std::vector<One*>& some) const {
        constexpr int steps = 6;
        std::vector<SymmetricElimination<double>> factor;
        const MatrixXcd from = shapes(some);
        MatrixXcd masses(from.rows(), from.cols());
        masses.real() = model_.mass * from.real();
        masses.imag() = model_.mass * from.imag();
        for (std::size_t n = 0; n < some.size(); ++n) {
            auto a = model_.lower_half(scales_at_(some[n]->free.omega));
            factor.emplace_back(a, a.rows());
            // What A changes by is the mass above all, and an inverse iteration asks for no more.
            some[n]->free.shape = factor[n].solved(masses.col(n));
            part_from_others(*some[n]);
        }
        const MatrixXcd by_w = set_slopes(some);
        std::vector<One*> moving = some;
        for (int step = 0; step < steps && !moving.empty(); ++step) {
            const MatrixXcd rest = times(moving, scales_at_);
            std::vector<One*> next;
            for (std::size_t n = 0; n < moving.size(); ++n) {
                One& one = *moving[n];
                FreeField& free = one.free;
                const Complex by = (free.shape.transpose() * rest.col(n))(0) / free.slope;
                free.omega -= by;
                one.moved = std::abs(by) / std::abs(free.omega);
                one.lost = !(one.moved < 0.5);
                if (at_rest(one)) continue;
                const auto k = std::ranges::find(some, &one) - some.begin();
                free.shape -= factor[k].solved(rest.col(n) - by * by_w.col(k));
                part_from_others(one);
                next.push_back(&one);
            }
            moving = std::move(next);
        }
    }

    const ReducedModel& model_;
    const ScalesAt& scales_at_;
    double still_;
};

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
    const Settling settling(model, scales_at, still);
    const auto all_settled = [&](const std::vector<const FreeField*>& from, const auto& others) {
        std::vector<Settling::One> all;
        for (const FreeField* free : from) all.push_back({*free, others(*free)});
        constexpr std::size_t together = 8;
        for_each_in_parallel((all.size() + together - 1) / together, 1, [&](std::size_t n) {
            const std::size_t first = n * together, count = std::min(together, all.size() - first);
            settling.settle(std::span(all).subspan(first, count));
        });
        return all;
    };
    std::vector<const FreeField*> first;
    for (const FreeField& free : begun) first.push_back(&free);
    const auto none = [](const FreeField&) { return std::vector<const FreeField*>(); };
    const auto all = all_settled(first, none);
    for (std::size_t n = 0; n < all.size(); ++n)
        if (all[n].lost || !add(all[n].free)) second.push_back(first[n]);
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
    for (const auto& one : led_apart)
        if (!one.lost) apart.push_back(&one.free);
    for (const auto& one : all_settled(apart, none))
        if (!one.lost) add(one.free);
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
