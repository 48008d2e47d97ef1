#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "solvers/floor_layout.hpp"
#include "solvers/floor_sum.hpp"
#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;
using Eigen::Index;
using Eigen::MatrixXcd;

namespace {

/// The different coordinates of some points along an axis, and which of them each point has.
struct Shared {
    std::vector<double> at;  ///< [m]
    std::vector<Index> of;
    Shared(std::span<const Point> points, int axis) {
        for (const Point& p : points) {
            const double x = coordinates(p)[axis];
            const auto known = std::ranges::find(at, x);
            of.push_back(known - at.begin());
            if (known == at.end()) at.push_back(x);
        }
    }
};

/// psi at each of these coordinates: one row a mode.
MatrixXcd functions_at(const AxisProblem& axis, const AxisTable& table, const Shared& places) {
    MatrixXcd psi(table.q2.size(), places.at.size());
    for (Index n = 0; n < psi.rows(); ++n)
        for (Index i = 0; i < psi.cols(); ++i)
            psi(n, i) = axis_function(axis, table.q2[n], places.at[i]);
    return psi;
}

/// The same, as 1/Lambda of the mode times what it is at every point.
MatrixXcd weighted_at(const AxisProblem& axis, const AxisTable& table, const Shared& places) {
    const MatrixXcd psi = functions_at(axis, table, places);
    MatrixXcd all(psi.rows(), places.of.size());
    for (Index r = 0; r < all.cols(); ++r)
        for (Index n = 0; n < all.rows(); ++n) all(n, r) = table.weight[n] * psi(n, places.of[r]);
    return all;
}

}  // namespace

TransferImpedance<double> modal_transfer_shared(const Room& room, const Air& air,
                                                std::span<const double> frequency,
                                                std::span<const Point> sources,
                                                std::span<const Point> receivers, double decay) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    TransferImpedance<double> z(frequency.size(), receivers.size(), sources.size());
    if (z.value.empty()) return z;
    const FloorLayout layout = lay_out_floor(sources, receivers);
    if (layout.distance < FloorSum::least_distance)  // sources at ear height: no common axis
        return modal_transfer(room, air, frequency, sources, receivers);
    const Shared of_a(sources, layout.a), of_b(sources, layout.b), of_c(sources, layout.c),
        to_a(receivers, layout.a), to_b(receivers, layout.b), to_c(receivers, layout.c);
    const auto side = sides(room);
    const auto count = static_cast<Index>(receivers.size());

    for_each_frequency(frequency.size(), [&](std::size_t f) {
        const auto axis = axis_problems(room, air, frequency[f]);
        const AxisProblem &a = axis[layout.a], &b = axis[layout.b], &c = axis[layout.c];
        // 1. The modes across, and what they are at the places.
        const double k = 2 * pi * frequency[f] / air.speed_of_sound,
                     beyond = std::pow(decay / layout.distance, 2) + k * k;
        const auto modes = [&](int along) {
            return static_cast<int>(std::sqrt(beyond) * side[along] / pi) + 1;
        };
        const AxisTable table_a = axis_table(a, modes(layout.a)),
                        table_b = axis_table(b, modes(layout.b));
        const MatrixXcd from_a = functions_at(a, table_a, of_a),
                        from_b = functions_at(b, table_b, of_b),
                        heard_a = weighted_at(a, table_a, to_a),
                        heard_b = weighted_at(b, table_b, to_b);
        const auto rigid = [&](int along, Index n) {
            return std::pow(static_cast<double>(n) * pi / side[along], 2);
        };
        // 2. Over n for every coordinate along b, then over m for every source.
        const Complex factor = source_factor(room, air, frequency[f]);
        for (Index m = 0; m < heard_a.rows(); ++m) {
            Index last = 0;
            while (last < heard_b.rows() && rigid(layout.a, m) + rigid(layout.b, last) <= beyond)
                ++last;
            if (last == 0) break;
            std::vector<AxisGreen> green;
            for (Index n = 0; n < last; ++n)
                green.emplace_back(c, c.k * c.k - table_a.q2[m] - table_b.q2[n]);
            for (std::size_t h = 0; h < of_c.at.size(); ++h) {
                MatrixXcd up(last, to_c.at.size()), terms(count, last);
                for (Index n = 0; n < last; ++n)
                    for (Index i = 0; i < up.cols(); ++i)
                        up(n, i) = green[n](of_c.at[h], to_c.at[i]);
                for (Index n = 0; n < last; ++n)
                    for (Index r = 0; r < count; ++r)
                        terms(r, n) = factor * heard_a(m, r) * heard_b(n, r) * up(n, to_c.of[r]);
                const MatrixXcd inner = terms * from_b.topRows(last);
                for (std::size_t s = 0; s < sources.size(); ++s) {
                    if (of_c.of[s] != static_cast<Index>(h)) continue;
                    for (Index r = 0; r < count; ++r)
                        z.at(f, r, s) += from_a(m, of_a.of[s]) * inner(r, of_b.of[s]);
                }
            }
        }
    });
    return z;
}

}  // namespace boxroom
