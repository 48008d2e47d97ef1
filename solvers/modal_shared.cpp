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
/// Those of a TransferImpedance at one frequency: the sources of one receiver side by side.
using Rows = Eigen::Map<Eigen::Matrix<Complex, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>>;

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

/// Sources and receivers of a floor, by axis of its layout.
class SharedSum {
  public:
    SharedSum(const Room& room, const Air& air, const FloorLayout& layout,
              std::span<const Point> sources, std::span<const Point> receivers, double decay)
        : room_(room),
          air_(air),
          layout_(layout),
          floor_(room, air, layout, receivers, decay),
          from_a_(sources, layout.a),
          from_b_(sources, layout.b),
          from_c_(sources, layout.c),
          to_a_(receivers, layout.a),
          to_b_(receivers, layout.b),
          to_c_(receivers, layout.c) {}

    /// To z, one row a receiver and one column a source.
    void add_up(double frequency, Rows z) const {
        const auto axis = axis_problems(room_, air_, frequency);
        const AxisProblem &a = axis[layout_.a], &b = axis[layout_.b], &c = axis[layout_.c];
        const std::vector<int> terms = floor_.all_terms(frequency).end;
        const AxisTable table_a = axis_table(a, static_cast<int>(terms.size())),
                        table_b = axis_table(b, std::ranges::max(terms));
        const MatrixXcd at_a = functions_at(a, table_a, from_a_),
                        at_b = functions_at(b, table_b, from_b_),
                        left = weighted_at(a, table_a, to_a_),
                        right = weighted_at(b, table_b, to_b_);
        const Complex factor = source_factor(room_, air_, frequency);
        for (Index m = 0; m < left.rows(); ++m) {
            std::vector<AxisGreen> green;
            for (int n = 0; n < terms[m]; ++n)
                green.emplace_back(c, c.k * c.k - table_a.q2[m] - table_b.q2[n]);
            for (Index h = 0; h < std::ssize(from_c_.at); ++h) {
                MatrixXcd row = up(green, from_c_.at[h]).cwiseProduct(right.topRows(terms[m]));
                for (Index r = 0; r < row.cols(); ++r) row.col(r) *= factor * left(m, r);
                const MatrixXcd inner = row.transpose() * at_b.topRows(terms[m]);
                for (Index s = 0; s < z.cols(); ++s)
                    if (from_c_.of[s] == h)
                        z.col(s) += at_a(m, from_a_.of[s]) * inner.col(from_b_.of[s]);
            }
        }
    }

  private:
    /// G of every mode from a height to each receiver.
    MatrixXcd up(const std::vector<AxisGreen>& green, double from) const {
        MatrixXcd all(green.size(), to_c_.of.size());
        std::vector<Complex> of_height(to_c_.at.size());
        for (Index n = 0; n < all.rows(); ++n) {
            for (std::size_t i = 0; i < of_height.size(); ++i)
                of_height[i] = green[n](from, to_c_.at[i]);
            for (Index r = 0; r < all.cols(); ++r) all(n, r) = of_height[to_c_.of[r]];
        }
        return all;
    }
    const Room& room_;
    const Air& air_;
    const FloorLayout& layout_;
    FloorSum floor_;
    Shared from_a_, from_b_, from_c_, to_a_, to_b_, to_c_;
};

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
    const SharedSum sum(room, air, layout, sources, receivers, decay);
    for_each_frequency(frequency.size(), [&](std::size_t f) {
        sum.add_up(frequency[f], Rows(&z.at(f, 0, 0), static_cast<Index>(receivers.size()),
                                      static_cast<Index>(sources.size())));
    });
    return z;
}

}  // namespace boxroom
