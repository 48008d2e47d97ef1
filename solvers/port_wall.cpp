#include "solvers/port_wall.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace boxroom::modal_parts {
namespace {

constexpr double decay = 12;  // e^-12 = 6e-6 of the term at the wall

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

}  // namespace

/// The modes of the wall's plane at one frequency.
struct PortWall::Modes {
    std::array<AxisProblem, 3> axis;
    AxisTable a, b;
    Complex scale;  ///< j w rho

    /// <psi>(extent, mode) along one axis of the plane.
    Eigen::MatrixXcd means(const std::vector<Extent>& extents, int along,
                           const AxisTable& table) const {
        Eigen::MatrixXcd mean(extents.size(), table.q2.size());
        for (std::size_t e = 0; e < extents.size(); ++e)
            for (std::size_t n = 0; n < table.q2.size(); ++n)
                mean(e, n) =
                    axis_function_mean(axis[along], table.q2[n], coordinates(extents[e].low)[along],
                                       coordinates(extents[e].high)[along]);
        return mean;
    }
};

PortWall::PortWall(const Room& cuboid, int wall, std::vector<Extent> patches, double reach)
    : cuboid_(cuboid),
      axis_(wall / 2),
      a_((axis_ + 1) % 3),
      b_((axis_ + 2) % 3),
      far_(wall % 2),
      patches_(std::move(patches)),
      reach_(reach) {}

double PortWall::limit_at(double distance, double k) const {
    return std::min(reach_, distance > 0 ? decay / distance : reach_) + k;
}

PortWall::Modes PortWall::modes(const Air& air, double frequency, double limit) const {
    Modes modes;
    modes.axis = axis_problems(cuboid_, air, frequency);
    const auto side = sides(cuboid_);
    const auto count = [&](int axis) { return static_cast<int>(limit * side[axis] / pi) + 3; };
    modes.a = axis_table(modes.axis[a_], count(a_));
    modes.b = axis_table(modes.axis[b_], count(b_));
    modes.scale = j * 2.0 * pi * frequency * air.density;
    return modes;
}

Eigen::MatrixXcd PortWall::transfer(const Air& air, double frequency,
                                    const std::vector<Extent>& extents) const {
    // 1. How far off the wall each extent is; alike ones share their closed form.
    struct Off {
        double from, to, limit;
        std::vector<int> extents;
    };
    std::vector<Off> offs;
    const double side = sides(cuboid_)[axis_], k = 2 * pi * frequency / air.speed_of_sound;
    double highest = 0;
    for (std::size_t e = 0; e < extents.size(); ++e) {
        const double from = coordinates(extents[e].low)[axis_];
        const double to = coordinates(extents[e].high)[axis_];
        auto found = std::find_if(offs.begin(), offs.end(), [&](const Off& off) {
            return std::abs(off.from - from) + std::abs(off.to - to) < 1e-9;
        });
        if (found == offs.end()) {
            offs.push_back({from, to, limit_at(far_ ? side - to : from, k), {}});
            highest = std::max(highest, offs.back().limit);
            found = offs.end() - 1;
        }
        found->extents.push_back(static_cast<int>(e));
    }

    // 2. The sum, the inner one for all patches and extents at a time.
    const Modes on = modes(air, frequency, highest);
    const Eigen::MatrixXcd patch_a = on.means(patches_, a_, on.a),
                           patch_b = on.means(patches_, b_, on.b),
                           extent_a = on.means(extents, a_, on.a),
                           extent_b = on.means(extents, b_, on.b);
    Eigen::MatrixXcd z = Eigen::MatrixXcd::Zero(extents.size(), patches_.size());
    Eigen::MatrixXcd inner(extents.size(), patches_.size());
    const AxisProblem& normal = on.axis[axis_];
    for (std::size_t m = 0; m < on.a.q2.size(); ++m) {
        inner.setZero();
        for (std::size_t n = 0; n < on.b.q2.size(); ++n) {
            const Complex across = on.a.q2[m] + on.b.q2[n];
            if (across.real() > highest * highest) break;
            const AxisGreen green(normal, normal.k * normal.k - across);
            const Complex weight = on.scale * on.a.weight[m] * on.b.weight[n];
            for (const Off& off : offs) {
                if (across.real() > off.limit * off.limit) continue;
                const Complex g = weight * green.mean_from_end(far_, off.from, off.to);
                for (const int e : off.extents)
                    inner.row(e) += g * extent_b(e, n) * patch_b.col(n).transpose();
            }
        }
        for (Eigen::Index e = 0; e < z.rows(); ++e)
            z.row(e) +=
                extent_a(e, m) * inner.row(e).cwiseProduct(patch_a.col(m).transpose());
    }
    return z;
}

PortWall::Targets PortWall::targets(std::span<const Point> points) const {
    Targets result;
    std::vector<double> along, second;
    const double side = sides(cuboid_)[axis_];
    for (const Point& p : points) {
        const auto at = coordinates(p);
        along.push_back(far_ ? side - at[axis_] : at[axis_]);
        result.first.push_back(at[a_]);
        second.push_back(at[b_]);
    }
    result.along_index = distinct(along, result.along);
    result.second_index = distinct(second, result.second);
    return result;
}

Eigen::MatrixXcd PortWall::field(const Air& air, double frequency, const Targets& points,
                                 const Eigen::MatrixXcd& flow) const {
    const double side = sides(cuboid_)[axis_], k = 2 * pi * frequency / air.speed_of_sound;
    std::vector<double> limit;
    for (const double d : points.along) limit.push_back(std::pow(limit_at(d, k), 2));
    const double highest = *std::max_element(limit.begin(), limit.end());
    const Modes on = modes(air, frequency, std::sqrt(highest));
    const Eigen::MatrixXcd patch_a = on.means(patches_, a_, on.a),
                           patch_b = on.means(patches_, b_, on.b);

    // 1. Mode functions at the points.
    const Eigen::Index count = points.first.size(), columns = flow.cols();
    const Eigen::Index m_count = on.a.q2.size(), n_count = on.b.q2.size();
    const Eigen::Index seconds = points.second.size(), alongs = points.along.size();
    Eigen::MatrixXcd at_second(seconds, n_count);
    for (Eigen::Index i = 0; i < seconds; ++i)
        for (Eigen::Index n = 0; n < n_count; ++n)
            at_second(i, n) = axis_function(on.axis[b_], on.b.q2[n], points.second[i]);
    std::vector<double> firsts;
    const std::vector<int> first_index = distinct(points.first, firsts);

    // 2. For every m: the sum over n at all distances from the wall, then at all points.
    Eigen::MatrixXcd result = Eigen::MatrixXcd::Zero(count, columns);
    const AxisProblem& normal = on.axis[axis_];
    std::vector<Eigen::MatrixXcd> inner(alongs);  // (second, column)
    for (Eigen::Index m = 0; m < m_count; ++m) {
        std::vector<char> any(alongs, 0);
        // Flow of mode (m, n): sum over patches.
        const Eigen::MatrixXcd shape = patch_a.col(m).asDiagonal() * flow;
        for (Eigen::Index n = 0; n < n_count; ++n) {
            const Complex across = on.a.q2[m] + on.b.q2[n];
            if (across.real() > highest) break;
            const Eigen::RowVectorXcd strength = on.scale * on.a.weight[m] * on.b.weight[n] *
                                                 (patch_b.col(n).transpose() * shape);
            const AxisGreen green(normal, normal.k * normal.k - across);
            for (Eigen::Index x = 0; x < alongs; ++x) {
                if (across.real() > limit[x]) continue;
                if (!any[x]) inner[x].setZero(seconds, columns), any[x] = 1;
                const double at = far_ ? side - points.along[x] : points.along[x];
                inner[x].noalias() +=
                    at_second.col(n) * (green.mean_from_end(far_, at, at) * strength);
            }
        }
        Eigen::VectorXcd at_first(firsts.size());
        for (std::size_t i = 0; i < firsts.size(); ++i)
            at_first[i] = axis_function(on.axis[a_], on.a.q2[m], firsts[i]);
        for (Eigen::Index p = 0; p < count; ++p)
            if (any[points.along_index[p]])
                result.row(p) += at_first[first_index[p]] *
                                 inner[points.along_index[p]].row(points.second_index[p]);
    }
    return result;
}

}  // namespace boxroom::modal_parts
