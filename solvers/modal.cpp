#include "solvers/modal.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

namespace boxroom {

using namespace modal_parts;

TransferImpedance<double> modal_transfer(const Room& room, const Air& air,
                                         std::span<const double> frequency,
                                         std::span<const Point> sources,
                                         std::span<const Point> receivers) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    constexpr double decay = 23;  // e^-23 = 1e-10
    const auto side = sides(room);

    // 1. For every pair, the axis along which the two are furthest apart goes into closed form.
    struct Pair {
        std::size_t source, receiver;
        int axis;
        double distance;
    };
    std::vector<Pair> pairs;
    std::array<double, 3> shortest;  // of the pairs that sum over an axis
    shortest.fill(1e9);
    for (std::size_t r = 0; r < receivers.size(); ++r) {
        for (std::size_t s = 0; s < sources.size(); ++s) {
            const auto a = coordinates(sources[s]), b = coordinates(receivers[r]);
            Pair pair{s, r, 0, 0};
            for (int axis = 0; axis < 3; ++axis)
                if (std::abs(a[axis] - b[axis]) > pair.distance)
                    pair.axis = axis, pair.distance = std::abs(a[axis] - b[axis]);
            if (pair.distance < 0.02)
                throw Error("modal solver", "a source and a receiver are within 2 cm of each other",
                            "move one of them: a point source has infinite pressure at itself");
            pairs.push_back(pair);
            for (int axis = 0; axis < 3; ++axis)
                if (axis != pair.axis) shortest[axis] = std::min(shortest[axis], pair.distance);
        }
    }

    TransferImpedance<double> result(frequency.size(), receivers.size(), sources.size());
    for_each_frequency(frequency.size(), [&](std::size_t f) {
        // 2. The eigenvalues of each axis, as many as the closest pair asks for.
        const auto axis = axis_problems(room, air, frequency[f]);
        const double k = axis[0].k.real();
        std::array<AxisTable, 3> table;
        for (int a = 0; a < 3; ++a)
            if (shortest[a] < 1e8)
                table[a] = axis_table(axis[a], modes_needed(side[a], k, shortest[a], decay));

        // 3. Z = j w rho sum_m sum_n psi_m psi_m/Lambda_m psi_n psi_n/Lambda_n G(kappa_mn).
        const Complex scale = source_factor(room, air, frequency[f]);
        std::array<std::vector<Complex>, 3> product;
        for (const Pair& pair : pairs) {
            const auto from = coordinates(sources[pair.source]);
            const auto to = coordinates(receivers[pair.receiver]);
            const int a = (pair.axis + 1) % 3, b = (pair.axis + 2) % 3, c = pair.axis;
            for (const int summed : {a, b}) {
                const AxisTable& t = table[summed];
                const int needed =
                    std::min<int>(t.q2.size(), modes_needed(side[summed], k, pair.distance, decay));
                product[summed].resize(needed);
                for (int n = 0; n < needed; ++n)
                    product[summed][n] = t.weight[n] *
                                         axis_function(axis[summed], t.q2[n], from[summed]) *
                                         axis_function(axis[summed], t.q2[n], to[summed]);
            }
            Complex sum = 0;
            const double beyond = std::pow(decay / pair.distance + 2 * k, 2);
            for (std::size_t m = 0; m < product[a].size(); ++m) {
                for (std::size_t n = 0; n < product[b].size(); ++n) {
                    const Complex across = table[a].q2[m] + table[b].q2[n];
                    if (across.real() > beyond) break;
                    sum += product[a][m] * product[b][n] *
                           axis_green(axis[c], axis[c].k * axis[c].k - across, from[c], to[c]);
                }
            }
            result.at(f, pair.receiver, pair.source) = scale * sum;
        }
    });
    add_openings(room, air, frequency, sources, receivers, result);
    return result;
}

}  // namespace boxroom
