#include "solvers/grid_probe.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

/// Lagrange weights of `count` nodes 0, 1, 2 ... at t.
std::array<double, 4> lagrange(double t, int count) {
    std::array<double, 4> w{};
    for (int i = 0; i < count; ++i) {
        w[i] = 1;
        for (int j = 0; j < count; ++j)
            if (j != i) w[i] *= (t - j) / (i - j);
    }
    return w;
}

bool all_air(const GridShape& shape, const std::array<int, 3>& first, int cells) {
    for (int z = 0; z < cells; ++z)
        for (int y = 0; y < cells; ++y)
            for (int x = 0; x < cells; ++x)
                if (!shape.is_air(first[0] + x, first[1] + y, first[2] + z)) return false;
    return true;
}

/// The cell of air nearest to t (in cells), which is moved into it.
std::array<int, 3> own_cell(const GridShape& shape, std::array<double, 3>& t) {
    std::array<int, 3> cell;
    for (int a = 0; a < 3; ++a)
        cell[a] = std::clamp(static_cast<int>(std::floor(t[a])), 0, shape.cells[a] - 1);
    if (!shape.is_air(cell[0], cell[1], cell[2])) {
        const auto centre = cell;
        double nearest = 1e30;
        constexpr int reach = 3;
        for (int z = -reach; z <= reach; ++z)
            for (int y = -reach; y <= reach; ++y)
                for (int x = -reach; x <= reach; ++x) {
                    const std::array<int, 3> other{centre[0] + x, centre[1] + y, centre[2] + z};
                    if (!shape.is_air(other[0], other[1], other[2])) continue;
                    double square = 0;
                    for (int a = 0; a < 3; ++a) {
                        const double off =
                            t[a] - std::clamp<double>(t[a], other[a], other[a] + 1.0);
                        square += off * off * shape.spacing[a] * shape.spacing[a];
                    }
                    if (square < nearest) nearest = square, cell = other;
                }
        if (nearest > 1e29)
            throw Error("grid solver", "a point lies outside the room or inside a solid",
                        "move it into the air");
    }
    for (int a = 0; a < 3; ++a) t[a] = std::clamp<double>(t[a], cell[a], cell[a] + 1.0);
    return cell;
}

}  // namespace

std::vector<std::pair<std::size_t, double>> interpolation(const GridShape& shape,
                                                          const GridNodes& nodes,
                                                          const Point& point) {
    std::array<double, 3> t{(point.x - shape.origin.x) / shape.spacing[0],
                            (point.y - shape.origin.y) / shape.spacing[1],
                            (point.z - shape.origin.z) / shape.spacing[2]};
    const auto cell = own_cell(shape, t);
    // Centred where possible, else shifted by one cell away from what is in the way.
    std::array<int, 3> first = cell;
    int count = 2;
    for (int shift = 0; shift < 27 && count == 2; ++shift) {
        constexpr int order[3] = {0, 1, -1};
        const std::array<int, 3> at{cell[0] - 1 + order[shift % 3],
                                    cell[1] - 1 + order[shift / 3 % 3],
                                    cell[2] - 1 + order[shift / 9]};
        if (all_air(shape, at, 3)) first = at, count = 4;
    }
    std::array<std::array<double, 4>, 3> w;
    for (int a = 0; a < 3; ++a) w[a] = lagrange(t[a] - first[a], count);
    std::vector<std::pair<std::size_t, double>> result;
    for (int z = 0; z < count; ++z)
        for (int y = 0; y < count; ++y)
            for (int x = 0; x < count; ++x) {
                const double weight = w[0][x] * w[1][y] * w[2][z];
                if (std::abs(weight) < 1e-12)
                    continue;  // the point lies on a node, but for rounding
                result.push_back(
                    {(static_cast<std::size_t>(first[2] + z) * nodes.count[1] + first[1] + y) *
                             nodes.count[0] +
                         first[0] + x,
                     weight});
            }
    return result;
}

template <typename Real>
RunningTransform<Real>::RunningTransform(const GridShape& shape, const GridNodes& nodes,
                                         std::span<const Point> points,
                                         std::vector<double> phase_per_sample)
    : phase_(std::move(phase_per_sample)) {
    first_.push_back(0);
    for (const Point& point : points) {
        for (const auto& [node, weight] : interpolation(shape, nodes, point)) {
            node_.push_back(static_cast<std::uint32_t>(node));
            weight_.push_back(static_cast<Real>(weight));
        }
        first_.push_back(node_.size());
    }
    samples_ = Matrix::Zero(static_cast<Eigen::Index>(points.size()), block);
    sum_ = Eigen::MatrixXd::Zero(samples_.rows(), 2 * static_cast<Eigen::Index>(phase_.size()));
    table_.resize(block, sum_.cols());
    for (std::size_t f = 0; f < phase_.size(); ++f)
        for (int i = 0; i < block; ++i) {
            table_(i, 2 * f) = static_cast<Real>(std::cos(phase_[f] * i));
            table_(i, 2 * f + 1) = static_cast<Real>(-std::sin(phase_[f] * i));
        }
}

/// Adds samples from .. to - 1 of the block that starts with sample number `start`.
template <typename Real>
void RunningTransform<Real>::add(int first, int count, std::size_t start, int from, int to) {
    if (from == to) return;
    for (int done = 0; done < count; done += chunk)
        add_chunk(first + done, std::min(chunk, count - done), start, from, to);
}

template <typename Real>
void RunningTransform<Real>::add_chunk(int first, int count, std::size_t start, int from, int to) {
    const Matrix part =
        samples_.block(first, from, count, to - from) * table_.middleRows(from, to - from);
    for (std::size_t f = 0; f < phase_.size(); ++f) {
        const double angle = std::fmod(phase_[f] * static_cast<double>(start), 2 * M_PI);
        const double c = std::cos(angle), s = -std::sin(angle);
        for (int r = 0; r < count; ++r) {
            const double re = part(r, 2 * f), im = part(r, 2 * f + 1);
            sum_(first + r, 2 * f) += c * re - s * im;
            sum_(first + r, 2 * f + 1) += c * im + s * re;
        }
    }
}

template <typename Real>
void RunningTransform<Real>::sample(const Real* field, std::size_t m, int part, int parts) {
    const int total = static_cast<int>(points());
    const auto before = [&](int n) {  // whole chunks, however many parts there are
        const int chunks = (total + chunk - 1) / chunk;
        return std::min(total, chunks * n / parts * chunk);
    };
    const int begin = before(part), end = before(part + 1);
    const int column = static_cast<int>(m % block);
    for (int r = begin; r < end; ++r) {
        Real sum = 0;
        for (std::size_t i = first_[r]; i < first_[r + 1]; ++i) sum += weight_[i] * field[node_[i]];
        samples_(r, column) = sum;
    }
    if (column == block - 1) {
        const std::size_t start = m - column;
        const int from = counted_ > start ? static_cast<int>(counted_ - start) : 0;
        add(begin, end - begin, start, from, block);
    }
}

template <typename Real>
void RunningTransform<Real>::flush(std::size_t taken) {
    const std::size_t start = taken / block * block;
    const std::size_t from = std::max(start, counted_);
    add(0, static_cast<int>(points()), start, static_cast<int>(from - start),
        static_cast<int>(taken - start));
    counted_ = taken;
}

template class RunningTransform<float>;
template class RunningTransform<double>;

}  // namespace boxroom
