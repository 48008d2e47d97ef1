#include "solvers/modal.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

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
    void products(const Pair& pair, int along, std::vector<Complex>& product) const {
        const AxisTable& t = table[along];
        product.resize(
            std::min<std::size_t>(t.q2.size(), modes_needed(side[along], k, pair.distance, decay)));
        for (std::size_t n = 0; n < product.size(); ++n)
            product[n] = t.weight[n] * axis_function(problem[along], t.q2[n], pair.from[along]) *
                         axis_function(problem[along], t.q2[n], pair.to[along]);
    }
    /// sum_m psi_m psi_m/Lambda_m sum_n psi_n psi_n/Lambda_n G(kappa_mn).
    Complex sum(const Pair& pair, std::array<std::vector<Complex>, 2>& product) const {
        const int a = (pair.axis + 1) % 3, b = (pair.axis + 2) % 3, c = pair.axis;
        products(pair, a, product[0]);
        products(pair, b, product[1]);
        Complex total = 0;
        const double beyond = std::pow(decay / pair.distance + 2 * k, 2);
        for (std::size_t m = 0; m < product[0].size(); ++m)
            for (std::size_t n = 0; n < product[1].size(); ++n) {
                const Complex across = table[a].q2[m] + table[b].q2[n];
                if (across.real() > beyond) break;
                total += product[0][m] * product[1][n] *
                         axis_green(problem[c], problem[c].k * problem[c].k - across, pair.from[c],
                                    pair.to[c]);
            }
        return total;
    }
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
        std::array<std::vector<Complex>, 2> product;
        for (const Pair& pair : pairs)
            result.at(f, pair.receiver, pair.source) = scale * axes.sum(pair, product);
    });
    add_openings(room, air, frequency, sources, receivers, result);
    return result;
}

}  // namespace boxroom
