#include "solvers/modal.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

constexpr double decay = 23;  // e^-23 = 1e-10

/// A source and a receiver; the axis along which the two are furthest apart goes into closed form.
struct Pair {
    std::size_t source, receiver;
    std::array<double, 3> from, to;
    int axis = 0;
    double distance = 0;
};

std::vector<Pair> pairs_of(std::span<const Point> sources, std::span<const Point> receivers) {
    std::vector<Pair> pairs;
    for (std::size_t r = 0; r < receivers.size(); ++r)
        for (std::size_t s = 0; s < sources.size(); ++s) {
            Pair pair{s, r, coordinates(sources[s]), coordinates(receivers[r])};
            for (int axis = 0; axis < 3; ++axis)
                if (std::abs(pair.from[axis] - pair.to[axis]) > pair.distance)
                    pair.axis = axis, pair.distance = std::abs(pair.from[axis] - pair.to[axis]);
            pairs.push_back(pair);
        }
    return pairs;
}

/// The axes of one frequency with as many eigenvalues as the closest pair asks for.
struct Axes {
    std::array<double, 3> side;
    std::array<AxisProblem, 3> problem;
    std::array<AxisTable, 3> table;
    double k;

    Axes(const Room& room, const Air& air, double frequency, const std::vector<Pair>& pairs)
        : side(sides(room)),
          problem(axis_problems(room, air, frequency)),
          k(std::abs(problem[0].k)) {
        for (int a = 0; a < 3; ++a) {
            double shortest = 1e9;  // of the pairs that sum over this axis
            for (const Pair& pair : pairs)
                if (pair.axis != a) shortest = std::min(shortest, pair.distance);
            if (shortest < 1e8)
                table[a] = axis_table(problem[a], modes_needed(side[a], k, shortest, decay));
        }
    }
    /// psi psi/Lambda of every mode that a pair needs along an axis.
    std::vector<Complex> products(const Pair& pair, int along) const {
        const AxisTable& t = table[along];
        std::vector<Complex> product(
            std::min<std::size_t>(t.q2.size(), modes_needed(side[along], k, pair.distance, decay)));
        for (std::size_t n = 0; n < product.size(); ++n)
            product[n] = t.weight[n] * axis_function(problem[along], t.q2[n], pair.from[along]) *
                         axis_function(problem[along], t.q2[n], pair.to[along]);
        return product;
    }
};

/// sum_m psi_m psi_m/Lambda_m sum_n psi_n psi_n/Lambda_n G(kappa_mn) of all pairs with one axis in
/// closed form, whose G have most in common.
class SumsAlong {
  public:
    SumsAlong(const Axes& axes, int c, std::span<const Pair> pairs)
        : axes_(axes), a_((c + 1) % 3), b_((c + 2) % 3), c_(c) {
        for (std::size_t p = 0; p < pairs.size(); ++p) {
            if (pairs[p].axis != c) continue;
            terms_.push_back({p, pairs[p].from[c], pairs[p].to[c], axes.products(pairs[p], a_),
                              axes.products(pairs[p], b_),
                              std::pow(decay / pairs[p].distance + 2 * axes.k, 2)});
            rows_ = std::max(rows_, terms_.back().over_a.size());
            columns_ = std::max(columns_, terms_.back().over_b.size());
            beyond_ = std::max(beyond_, terms_.back().beyond);
        }
    }
    /// To total[pair].
    void add_up(std::span<Complex> total) const {
        const AxisProblem& closed = axes_.problem[c_];
        for (std::size_t m = 0; m < rows_; ++m)
            for (std::size_t n = 0; n < columns_; ++n) {
                const Complex across = axes_.table[a_].q2[m] + axes_.table[b_].q2[n];
                if (across.real() > beyond_) break;
                const AxisGreen green(closed, closed.k * closed.k - across);
                for (const Terms& t : terms_)
                    if (m < t.over_a.size() && n < t.over_b.size() && across.real() <= t.beyond)
                        total[t.pair] += t.over_a[m] * t.over_b[n] * green(t.from, t.to);
            }
    }

  private:
    struct Terms {
        std::size_t pair;
        double from, to;
        std::vector<Complex> over_a, over_b;
        double beyond;  ///< q^2 from which on everything has decayed
    };
    const Axes& axes_;
    int a_, b_, c_;
    std::vector<Terms> terms_;
    std::size_t rows_ = 0, columns_ = 0;
    double beyond_ = 0;
};

}  // namespace

TransferImpedance<double> modal_transfer(const Room& room, const Air& air,
                                         std::span<const double> frequency,
                                         std::span<const Point> sources,
                                         std::span<const Point> receivers) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    check_apart(sources, receivers);
    const std::vector<Pair> pairs = pairs_of(sources, receivers);
    TransferImpedance<double> result(frequency.size(), receivers.size(), sources.size());
    for_each_frequency(frequency.size(), [&](std::size_t f) {
        const Axes axes(room, air, frequency[f], pairs);
        const Complex scale = source_factor(room, air, frequency[f]);
        std::vector<Complex> total(pairs.size());
        for (int c = 0; c < 3; ++c) SumsAlong(axes, c, pairs).add_up(total);
        for (std::size_t p = 0; p < pairs.size(); ++p)
            result.at(f, pairs[p].receiver, pairs[p].source) = scale * total[p];
    });
    return result;
}

}  // namespace boxroom
