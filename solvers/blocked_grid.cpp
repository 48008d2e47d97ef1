#include "solvers/blocked_grid.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/lobatto.hpp"

namespace boxroom {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double narrowest_gap = 0.02;  ///< what is less between a block and a wall is no air [m]

std::array<double, 3> along_axes(const Point& p) {
    return {p.x, p.y, p.z};
}

/// Weights of Gauss and Lobatto's points on [-1, 1]: the integrals of the polynomials through them.
VectorXd lobatto_weights(int degree) {
    return lobatto::mass(degree).rowwise().sum();
}

}  // namespace

BlockedGrid::BlockedGrid(const Room& room, double highest, int more_degrees) {
    const Block& block = room.plan.blocks.at(0);
    const auto side = along_axes({room.width, room.length, room.height});
    const auto from = along_axes(block.from), to = along_axes(block.to);
    for (int a = 0; a < 3; ++a) {
        Axis& axis = axis_[a];
        const double length[] = {from[a], to[a] - from[a], side[a] - to[a]};
        for (int part = 0; part < 3; ++part) {
            if (part != 1 && length[part] < narrowest_gap) continue;
            const double waves = length[part] * highest / 150;  // in metres at 150 Hz
            axis.count[part] = std::max(1, static_cast<int>(std::ceil(waves / 1.6)));
            const double each = waves / axis.count[part];
            const int degree = std::clamp(static_cast<int>(std::ceil(1.5 + 1.6 * each)), 2, 5);
            for (int n = 0; n < axis.count[part]; ++n) {
                axis.part.push_back(part), axis.degree.push_back(degree + more_degrees);
                axis.nodes += axis.degree.back();
            }
        }
    }
    number_nodes();
}

BlockedGrid::Ends BlockedGrid::ends_in(const Room& room) const {
    const Block& block = room.plan.blocks.at(0);
    const auto side = along_axes({room.width, room.length, room.height});
    const auto from = along_axes(block.from), to = along_axes(block.to);
    Ends ends;
    for (int a = 0; a < 3; ++a) {
        // Whatever touched a wall does so still.
        const auto& count = axis_[a].count;
        const double low = count[0] > 0 ? std::max(from[a], narrowest_gap) : 0;
        const double high = count[2] > 0 ? std::min(to[a], side[a] - narrowest_gap) : side[a];
        const double start[] = {0, low, high}, end[] = {low, high, side[a]};
        ends[a].push_back(0);
        for (int part = 0; part < 3; ++part)
            for (int n = 1; n <= count[part]; ++n)
                ends[a].push_back(start[part] + (end[part] - start[part]) * n / count[part]);
    }
    return ends;
}

bool BlockedGrid::solid(const Triple& element) const {
    for (int a = 0; a < 3; ++a)
        if (axis_[a].part[static_cast<std::size_t>(element[a])] != 1) return false;
    return true;
}

std::size_t BlockedGrid::grid_node(const Triple& at) const {
    return static_cast<std::size_t>((at[2] * axis_[1].nodes + at[1]) * axis_[0].nodes + at[0]);
}

int BlockedGrid::first_node(int axis, int element) const {
    int first = 0;
    for (int e = 0; e < element; ++e) first += axis_[axis].degree[static_cast<std::size_t>(e)];
    return first;
}

/// body(element) for each that is air.
template <typename Body>
void BlockedGrid::for_each_element(const Body& body) const {
    const auto count = [this](int a) { return static_cast<int>(axis_[a].part.size()); };
    for (int z = 0; z < count(2); ++z)
        for (int y = 0; y < count(1); ++y)
            for (int x = 0; x < count(0); ++x)
                if (const Triple element{x, y, z}; !solid(element)) body(element);
}

/// body(its place among the element's, its place in the grid).
template <typename Body>
void BlockedGrid::for_each_node(const Triple& element, const Body& body) const {
    Triple first{}, degree{};
    for (int a = 0; a < 3; ++a) {
        first[a] = first_node(a, element[a]);
        degree[a] = axis_[a].degree[static_cast<std::size_t>(element[a])];
    }
    for (int z = 0; z <= degree[2]; ++z)
        for (int y = 0; y <= degree[1]; ++y)
            for (int x = 0; x <= degree[0]; ++x)
                body(Triple{x, y, z}, Triple{first[0] + x, first[1] + y, first[2] + z});
}

void BlockedGrid::number_nodes() {
    number_.assign(static_cast<std::size_t>(axis_[0].nodes * axis_[1].nodes * axis_[2].nodes), -1);
    for_each_element([&](const Triple& element) {
        for_each_node(element,
                      [&](const Triple&, const Triple& at) { number_[grid_node(at)] = 0; });
    });
    for (int& n : number_)
        if (n == 0) n = unknowns_++;
}

void BlockedGrid::add_element(const Ends& ends, const Triple& element, BlockedOperator& out,
                              std::vector<Eigen::Triplet<double>>& entries,
                              std::array<VectorXd, walls_and_block>& wall) const {
    std::array<VectorXd, 3> weight;
    std::array<MatrixXd, 3> slope;
    Triple degree{};
    std::array<std::array<int, 2>, 3> surface{};  // beyond both ends; -1: air
    for (int a = 0; a < 3; ++a) {
        const auto e = static_cast<std::size_t>(element[a]);
        degree[a] = axis_[a].degree[e];
        const double half = (ends[a][e + 1] - ends[a][e]) / 2;
        weight[a] = half * lobatto_weights(degree[a]);
        slope[a] = lobatto::stiffness(degree[a]) / half;
        for (int end = 0; end < 2; ++end) {
            Triple next = element;
            next[a] += end == 0 ? -1 : 1;
            const bool room = next[a] >= 0 && next[a] < static_cast<int>(axis_[a].part.size());
            surface[a][end] = !room ? 2 * a + end : solid(next) ? walls_and_block - 1 : -1;
        }
    }
    for_each_node(element, [&](const Triple& i, const Triple& at) {
        const int here = number_[grid_node(at)];
        const double w[] = {weight[0](i[0]), weight[1](i[1]), weight[2](i[2])};
        out.mass(here) += w[0] * w[1] * w[2];
        for (int a = 0; a < 3; ++a) {
            const double across = w[(a + 1) % 3] * w[(a + 2) % 3];
            Triple other = at;
            for (int k = 0; k <= degree[a]; ++k) {
                other[a] = at[a] - i[a] + k;
                entries.emplace_back(here, number_[grid_node(other)], slope[a](i[a], k) * across);
            }
            for (int end = 0; end < 2; ++end)
                if (i[a] == end * degree[a] && surface[a][end] >= 0)
                    wall[static_cast<std::size_t>(surface[a][end])](here) += across;
        }
    });
}

BlockedOperator BlockedGrid::operator_of(const Room& room) const {
    const Ends ends = ends_in(room);
    BlockedOperator out;
    out.mass = VectorXd::Zero(unknowns_);
    std::vector<Eigen::Triplet<double>> entries;
    std::array<VectorXd, walls_and_block> wall;
    wall.fill(VectorXd::Zero(unknowns_));
    for_each_element(
        [&](const Triple& element) { add_element(ends, element, out, entries, wall); });
    out.stiffness.resize(unknowns_, unknowns_);
    out.stiffness.setFromTriplets(entries.begin(), entries.end());
    for (std::size_t s = 0; s < wall.size(); ++s)
        for (int n = 0; n < unknowns_; ++n)
            if (wall[s](n) > 0) out.wall[s].push_back({n, wall[s](n)});
    return out;
}

std::array<std::vector<double>, 3> BlockedGrid::node_places(const Room& room) const {
    const Ends ends = ends_in(room);
    std::array<std::vector<double>, 3> places;
    for (int a = 0; a < 3; ++a) {
        places[a].push_back(0);
        for (std::size_t e = 0; e < axis_[a].part.size(); ++e) {
            const VectorXd& nodes = lobatto::nodes(axis_[a].degree[e]);
            const double from = ends[a][e], to = ends[a][e + 1];
            for (Index n = 1; n < nodes.size(); ++n)
                places[a].push_back(from + (to - from) * (nodes(n) + 1) / 2);
        }
    }
    return places;
}

VectorXd BlockedGrid::product(const std::array<VectorXd, 3>& along) const {
    VectorXd out(unknowns_);
    for (int z = 0; z < axis_[2].nodes; ++z)
        for (int y = 0; y < axis_[1].nodes; ++y)
            for (int x = 0; x < axis_[0].nodes; ++x)
                if (const int n = number_[grid_node({x, y, z})]; n >= 0)
                    out(n) = along[0](x) * along[1](y) * along[2](z);
    return out;
}

/// The element that a place lies in; one in the block is moved to the nearest face that air
/// touches.
BlockedGrid::Triple BlockedGrid::element_at(const Ends& ends, std::array<double, 3>& at) const {
    Triple element{};
    for (int a = 0; a < 3; ++a) {
        at[a] = std::clamp(at[a], 0.0, ends[a].back());
        const auto inner = std::upper_bound(ends[a].begin() + 1, ends[a].end() - 1, at[a]);
        element[a] = static_cast<int>(inner - ends[a].begin()) - 1;
    }
    if (!solid(element)) return element;
    double nearest = 1e9, to = 0;
    int axis = 0, beyond = 0;
    for (int a = 0; a < 3; ++a) {
        const int first = axis_[a].count[0], last = first + axis_[a].count[1];
        const auto try_face = [&](int face, int next) {
            const double way = std::abs(at[a] - ends[a][static_cast<std::size_t>(face)]);
            if (next < 0 || next >= static_cast<int>(axis_[a].part.size()) || way >= nearest)
                return;
            nearest = way, to = ends[a][static_cast<std::size_t>(face)], axis = a, beyond = next;
        };
        try_face(first, first - 1), try_face(last, last);
    }
    at[axis] = to, element[axis] = beyond;
    return element;
}

MatrixXd BlockedGrid::point_values(const Room& room, std::span<const Point> places) const {
    const Ends ends = ends_in(room);
    MatrixXd out = MatrixXd::Zero(unknowns_, static_cast<Index>(places.size()));
    for (std::size_t n = 0; n < places.size(); ++n) {
        auto at = along_axes(places[n]);
        const Triple element = element_at(ends, at);
        std::array<MatrixXd, 3> value;
        for (int a = 0; a < 3; ++a) {
            const auto e = static_cast<std::size_t>(element[a]);
            const double from = ends[a][e], to = ends[a][e + 1];
            value[a] = lobatto::values(axis_[a].degree[e],
                                       VectorXd::Constant(1, 2 * (at[a] - from) / (to - from) - 1));
        }
        for_each_node(element, [&](const Triple& i, const Triple& grid) {
            out(number_[grid_node(grid)], static_cast<Index>(n)) =
                value[0](i[0]) * value[1](i[1]) * value[2](i[2]);
        });
    }
    return out;
}

}  // namespace boxroom
