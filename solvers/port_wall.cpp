#include "solvers/port_wall.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace boxroom::modal_parts {
namespace {

constexpr double decay = 12;     // e^-12 = 6e-6 of the term at the wall
constexpr double nearest = 0.2;  // nearer to the wall, points are treated as if they were not [m]

/// Without the library's guards against overflow, which nothing here comes near.
inline Complex product(Complex a, Complex b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// The distinct values and, for each, which one it is.
std::vector<int> distinct(const std::vector<double>& values, std::vector<double>& found) {
    std::vector<int> index;
    std::map<long long, int> seen;
    for (const double x : values) {
        const auto [entry, is_new] =
            seen.try_emplace(std::llround(x * 1e7), static_cast<int>(found.size()));
        if (is_new) found.push_back(x);
        index.push_back(entry->second);
    }
    return index;
}

/// <psi>(extent, mode) along one axis.
Eigen::MatrixXcd means(const std::vector<Extent>& extents, int along, const AxisProblem& axis,
                       const std::vector<Complex>& q2) {
    Eigen::MatrixXcd mean(extents.size(), q2.size());
    for (std::size_t e = 0; e < extents.size(); ++e)
        for (std::size_t n = 0; n < q2.size(); ++n)
            mean(e, n) =
                axis_function_mean(axis, q2[n], coordinates(extents[e].low)[along],
                                   coordinates(extents[e].high)[along], extents[e].order[along]);
    return mean;
}

Eigen::MatrixXcd at_points(const std::vector<double>& points, const AxisProblem& axis,
                           const std::vector<Complex>& q2) {
    Eigen::MatrixXcd value(points.size(), q2.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        for (std::size_t n = 0; n < q2.size(); ++n)
            value(i, n) = axis_function(axis, q2[n], points[i]);
    return value;
}

}  // namespace

/// The modes of the wall's plane at one frequency.
struct PortWall::Modes {
    std::array<AxisProblem, 3> axis;
    AxisTable a, b;
    Complex scale;  ///< j w rho
};

PortWall::PortWall(const Room& cuboid, int wall, std::vector<Extent> ports, double highest_k)
    : cuboid_(cuboid),
      axis_(wall / 2),
      a_((axis_ + 1) % 3),
      b_((axis_ + 2) % 3),
      far_(wall % 2),
      ports_(std::move(ports)),
      split_(12 + 3 * highest_k) {
    sum_tails();
}

double PortWall::rigid(int m, int n) const {
    const auto side = sides(cuboid_);
    return std::pow(m * pi / side[a_], 2) + std::pow(n * pi / side[b_], 2);
}

void PortWall::sum_tails() {
    double smallest = 1e9;
    for (const Extent& port : ports_)
        for (const int axis : {a_, b_})
            smallest =
                std::min(smallest, (coordinates(port.high)[axis] - coordinates(port.low)[axis]) /
                                       (1 + port.order[axis]));
    const double reach = std::max(3 * split_, 60 / smallest);
    const auto side = sides(cuboid_);
    const auto rigid_modes = [&](int axis) {
        std::vector<Complex> q2;
        for (int n = 0; n * pi / side[axis] <= reach; ++n)
            q2.push_back(std::pow(n * pi / side[axis], 2));
        return q2;
    };
    const auto q2_a = rigid_modes(a_), q2_b = rigid_modes(b_);
    const Eigen::MatrixXd on_a = means(ports_, a_, {side[a_], 0, 0, 0}, q2_a).real(),
                          on_b = means(ports_, b_, {side[b_], 0, 0, 0}, q2_b).real();
    for (auto& tail : tail_) tail = Eigen::MatrixXd::Zero(ports_.size(), ports_.size());
    for (int m = 0; m < on_a.cols(); ++m)
        for (int n = 0; n < on_b.cols(); ++n) {
            const double q = std::sqrt(rigid(m, n));
            if (q <= split_ || q > reach) continue;
            const double weight = (m ? 2 : 1) * (n ? 2 : 1) / (side[a_] * side[b_]);
            const Eigen::VectorXd shape = on_a.col(m).cwiseProduct(on_b.col(n));
            const Eigen::MatrixXd product = weight * shape * shape.transpose();
            tail_[0] += product / q;
            tail_[1] += product / (q * q);
            tail_[2] += product / (q * q * q);
        }
}

double PortWall::limit_at(double distance, double k) const {
    return decay / std::max(distance, nearest) + k;
}

PortWall::Modes PortWall::modes(const Air& air, Complex omega, double limit) const {
    Modes modes;
    modes.axis = axis_problems_at(cuboid_, air, omega);
    const auto side = sides(cuboid_);
    const auto count = [&](int axis) { return static_cast<int>(limit * side[axis] / pi) + 1; };
    modes.a = axis_table(modes.axis[a_], count(a_));
    modes.b = axis_table(modes.axis[b_], count(b_));
    modes.scale = source_factor_at(cuboid_, air, omega);
    return modes;
}

Eigen::MatrixXcd PortWall::self(const Air& air, Complex omega) const {
    const Modes on = modes(air, omega, split_);
    const AxisProblem& normal = on.axis[axis_];
    const Eigen::MatrixXcd on_a = means(ports_, a_, on.axis[a_], on.a.q2),
                           on_b = means(ports_, b_, on.axis[b_], on.b.q2);
    const Complex jkb = j * normal.k * (far_ ? normal.b1 : normal.b0);
    Eigen::MatrixXcd z =
        tail_[0] - jkb * tail_[1] + (normal.k * normal.k / 2.0 + jkb * jkb) * tail_[2];
    const double end = far_ ? normal.length : 0;
    for (Eigen::Index m = 0; m < on_a.cols(); ++m)
        for (Eigen::Index n = 0; n < on_b.cols(); ++n) {
            if (rigid(static_cast<int>(m), static_cast<int>(n)) > split_ * split_) break;
            const AxisGreen green(normal, normal.k * normal.k - on.a.q2[m] - on.b.q2[n]);
            const Complex weight =
                on.a.weight[m] * on.b.weight[n] * green.mean_from_end(far_, end, end);
            const Eigen::VectorXcd shape = on_a.col(m).cwiseProduct(on_b.col(n));
            z.noalias() += (weight * shape) * shape.transpose();
        }
    return on.scale * z;
}

Eigen::MatrixXcd PortWall::transfer(const Air& air, Complex omega,
                                    const std::vector<Extent>& extents) const {
    const double side = sides(cuboid_)[axis_], k = std::abs(omega) / air.speed_of_sound;
    std::vector<double> from, to, limit;
    for (const Extent& extent : extents) {
        from.push_back(coordinates(extent.low)[axis_]);
        to.push_back(coordinates(extent.high)[axis_]);
        limit.push_back(limit_at(far_ ? side - to.back() : from.back(), k));
    }
    const double highest = *std::max_element(limit.begin(), limit.end());
    const Modes on = modes(air, omega, highest);
    const Eigen::MatrixXcd port_a = means(ports_, a_, on.axis[a_], on.a.q2),
                           port_b = means(ports_, b_, on.axis[b_], on.b.q2),
                           extent_a = means(extents, a_, on.axis[a_], on.a.q2),
                           extent_b = means(extents, b_, on.axis[b_], on.b.q2);
    const AxisProblem& normal = on.axis[axis_];
    Eigen::MatrixXcd z = Eigen::MatrixXcd::Zero(extents.size(), ports_.size());
    for (Eigen::Index m = 0; m < port_a.cols(); ++m)
        for (Eigen::Index n = 0; n < port_b.cols(); ++n) {
            const double across = rigid(static_cast<int>(m), static_cast<int>(n));
            if (across > highest * highest) break;
            const AxisGreen green(normal, normal.k * normal.k - on.a.q2[m] - on.b.q2[n]);
            const Eigen::RowVectorXcd shape = on.scale * on.a.weight[m] * on.b.weight[n] *
                                              port_a.col(m).cwiseProduct(port_b.col(n)).transpose();
            for (std::size_t e = 0; e < extents.size(); ++e)
                if (across <= limit[e] * limit[e])
                    z.row(e) += green.mean_from_end(far_, from[e], to[e], extents[e].order[axis_]) *
                                extent_a(e, m) * extent_b(e, n) * shape;
        }
    return z;
}

PortWall::Targets PortWall::targets(std::span<const Point> points) const {
    Targets result;
    std::vector<double> off, first, second;
    const double side = sides(cuboid_)[axis_];
    for (const Point& p : points) {
        const auto at = coordinates(p);
        off.push_back(far_ ? side - at[axis_] : at[axis_]);
        first.push_back(at[a_]);
        second.push_back(at[b_]);
    }
    result.off_index = distinct(off, result.off);
    result.first_index = distinct(first, result.first);
    result.second_index = distinct(second, result.second);
    return result;
}

Eigen::MatrixXcd PortWall::field(const Air& air, Complex omega, const Targets& points,
                                 const Eigen::MatrixXcd& flow) const {
    const double side = sides(cuboid_)[axis_], k = std::abs(omega) / air.speed_of_sound;
    std::vector<double> limit;
    for (const double off : points.off) limit.push_back(std::pow(limit_at(off, k), 2));
    const double highest = *std::max_element(limit.begin(), limit.end());
    const Modes on = modes(air, omega, std::sqrt(highest));
    const Eigen::MatrixXcd port_a = means(ports_, a_, on.axis[a_], on.a.q2),
                           port_b = means(ports_, b_, on.axis[b_], on.b.q2),
                           at_first = at_points(points.first, on.axis[a_], on.a.q2),
                           at_second = at_points(points.second, on.axis[b_], on.b.q2);

    // For every m: the sum over n at all distances from the wall, then at all points. Plain loops
    // over neighbours in memory: there are thousands of points and only a few columns.
    const AxisProblem& normal = on.axis[axis_];
    const std::size_t offs = points.off.size();
    const Eigen::Index columns = flow.cols(), seconds = at_second.rows();
    Eigen::MatrixXcd result = Eigen::MatrixXcd::Zero(columns, points.off_index.size());
    std::vector<Eigen::MatrixXcd> inner(offs);  // (column, second)
    for (Eigen::Index m = 0; m < port_a.cols(); ++m) {
        std::vector<char> any(offs, 0);
        const Eigen::MatrixXcd shape = port_a.col(m).asDiagonal() * flow;
        for (Eigen::Index n = 0; n < port_b.cols(); ++n) {
            const double across = rigid(static_cast<int>(m), static_cast<int>(n));
            if (across > highest) break;
            const Eigen::RowVectorXcd strength =
                on.scale * on.a.weight[m] * on.b.weight[n] * (port_b.col(n).transpose() * shape);
            const AxisGreen green(normal, normal.k * normal.k - on.a.q2[m] - on.b.q2[n]);
            for (std::size_t x = 0; x < offs; ++x) {
                if (across > limit[x]) continue;
                if (!any[x]) inner[x].setZero(columns, seconds), any[x] = 1;
                const double at = far_ ? side - points.off[x] : points.off[x];
                const Complex g = green.mean_from_end(far_, at, at);
                for (Eigen::Index i = 0; i < seconds; ++i)
                    for (Eigen::Index c = 0; c < columns; ++c)
                        inner[x](c, i) += product(product(at_second(i, n), g), strength(c));
            }
        }
        for (Eigen::Index p = 0; p < result.cols(); ++p) {
            if (!any[points.off_index[p]]) continue;
            const Complex first = at_first(points.first_index[p], m);
            const Complex* from =
                inner[points.off_index[p]].data() + points.second_index[p] * columns;
            Complex* to = result.data() + p * columns;
            for (Eigen::Index c = 0; c < columns; ++c) to[c] += product(first, from[c]);
        }
    }
    return result.transpose();
}

}  // namespace boxroom::modal_parts
