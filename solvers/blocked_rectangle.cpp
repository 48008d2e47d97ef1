#include "solvers/blocked_rectangle.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/parallel.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/element_matrices.hpp"
#include "solvers/varied_vectors.hpp"

namespace boxroom {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using std::numbers::pi;

constexpr std::size_t at_once = VariedSystems::lanes;

/// Every mode of the rigid rectangle up to a wave number, over the grid.
std::vector<VectorXd> modes_of_rectangle(const Room& room, const BlockedGrid& grid,
                                         double highest) {
    const auto place = grid.node_places(room);
    const double side[] = {room.width, room.length, room.height};
    std::array<std::vector<VectorXd>, 3> along;
    for (std::size_t a = 0; a < 3; ++a)
        for (int n = 0; n * pi / side[a] < highest; ++n) {
            VectorXd cosine(static_cast<Index>(place[a].size()));
            for (std::size_t i = 0; i < place[a].size(); ++i)
                cosine(static_cast<Index>(i)) = std::cos(n * pi * place[a][i] / side[a]);
            along[a].push_back(std::move(cosine));
        }
    std::vector<VectorXd> modes;
    for (std::size_t x = 0; x < along[0].size(); ++x)
        for (std::size_t y = 0; y < along[1].size(); ++y)
            for (std::size_t z = 0; z < along[2].size(); ++z)
                if (pi * std::hypot(static_cast<double>(x) / side[0],
                                    static_cast<double>(y) / side[1],
                                    static_cast<double>(z) / side[2]) <
                    highest)
                    modes.push_back(grid.product({along[0][x], along[1][y], along[2][z]}));
    return modes;
}

}  // namespace

bool same_shape(const Room& a, const Room& b) {
    const Block &p = a.plan.blocks.at(0), &q = b.plan.blocks.at(0);
    return a.width == b.width && a.length == b.length && a.height == b.height && p.from == q.from &&
           p.to == q.to;
}

BlockedRectangle::BlockedRectangle(const Room& room, const Air& air, double highest,
                                   std::span<const Point> places, int more_degrees)
    : air_(air), grid_(room, highest, more_degrees) {
    const BlockedOperator whole = grid_.operator_of(room);
    const double k = 2 * pi * highest / air_.speed_of_sound;
    const auto modes = modes_of_rectangle(room, grid_, 1.9 * k);
    const auto count = static_cast<Index>(modes.size());
    const auto extra = static_cast<Index>(places.size());
    MatrixXd load(grid_.unknowns(), count + extra);
    for (Index n = 0; n < count; ++n)
        load.col(n) = whole.mass.cwiseProduct(modes[static_cast<std::size_t>(n)]);
    load.rightCols(extra) = grid_.point_values(room, places);
    Eigen::SparseMatrix<double> shifted = whole.stiffness;
    shifted.diagonal() += k * k / 4 * whole.mass;
    const Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> factor(shifted);
    const MatrixXd field = factor.solve(load);

    // The modes of the room with its block, and of the static fields what those leave out.
    const MatrixXd first = field.leftCols(count);
    const SymmetricParts parts =
        symmetric_parts(first.transpose() * (whole.stiffness * first),
                        first.transpose() * whole.mass.asDiagonal() * first);
    const double keep = 1.35 * k;
    Index size = 0;
    while (size < count && parts.value(size) < keep * keep) ++size;
    functions_.resize(grid_.unknowns(), size + extra);
    functions_.leftCols(size) = first * parts.vector.leftCols(size);
    for (Index n = 0; n < extra; ++n) {
        VectorXd rest = field.col(count + n);
        const auto length = [&] { return std::sqrt(rest.dot(whole.mass.cwiseProduct(rest))); };
        const double before = length();
        for (int twice = 0; twice < 2; ++twice)
            rest -= functions_.leftCols(size) *
                    (functions_.leftCols(size).transpose() * whole.mass.cwiseProduct(rest));
        if (length() > 1e-6 * before) functions_.col(size++) = rest / length();
    }
    functions_.conservativeResize(Eigen::NoChange, size);
}

/// The operator between the functions, as VariedSystems has it: K, M, B of each surface.
std::vector<double> BlockedRectangle::parts_in(const Room& room) const {
    const BlockedOperator whole = grid_.operator_of(room);
    const Index size = functions_.cols();
    std::vector<MatrixXd> parts{functions_.transpose() * (whole.stiffness * functions_),
                                functions_.transpose() * (whole.mass.asDiagonal() * functions_)};
    for (const auto& wall : whole.wall) {
        MatrixXd on(static_cast<Index>(wall.size()), size);
        for (std::size_t n = 0; n < wall.size(); ++n)
            on.row(static_cast<Index>(n)) =
                std::sqrt(wall[n].second) * functions_.row(wall[n].first);
        parts.push_back(on.transpose() * on);
    }
    std::vector<double> out;
    out.reserve(static_cast<std::size_t>(size * (size + 1) / 2) * parts.size());
    for (Index i = 0; i < size; ++i)
        for (Index n = 0; n <= i; ++n)
            for (const MatrixXd& part : parts) out.push_back(part(i, n));
    return out;
}

/// As many frequencies from `first` on as there are lanes. `seen`: receivers and sources, one
/// column each.
void BlockedRectangle::solve(const RoomVariant& variant, const std::vector<double>& part,
                             const MatrixXd& seen, std::span<const double> frequency,
                             std::size_t first, TransferImpedance<double>& to) const {
    const std::size_t parts = 2 + walls_and_block, pairs = to.receivers * to.sources;
    std::vector<double> re(parts * at_once), im(parts * at_once), load;
    load.reserve(static_cast<std::size_t>(seen.size()) * at_once);
    for (Index i = 0; i < seen.rows(); ++i)
        for (Index c = 0; c < seen.cols(); ++c) load.insert(load.end(), at_once, seen(i, c));
    Air air = air_;
    air.speed_of_sound *= variant.sound;
    for (std::size_t n = 0; n < at_once; ++n) {  // lanes to spare repeat the last
        const auto scales = operator_scales(variant.room, air,
                                            frequency[std::min(first + n, frequency.size() - 1)]);
        const auto set = [&](std::size_t p, std::complex<double> scale) {
            re[p * at_once + n] = scale.real(), im[p * at_once + n] = scale.imag();
        };
        set(0, scales.stiffness_room), set(1, scales.mass);
        for (std::size_t s = 0; s < walls_and_block; ++s) set(2 + s, scales.wall.at(s));
    }
    std::vector<double> out_re(pairs * at_once), out_im(out_re);
    VariedSystems systems{static_cast<int>(functions_.cols()),
                          static_cast<int>(parts),
                          part.data(),
                          re.data(),
                          im.data(),
                          load.data(),
                          static_cast<int>(to.receivers),
                          static_cast<int>(to.sources),
                          out_re.data(),
                          out_im.data()};
    std::vector<double> scratch(static_cast<std::size_t>(systems.scratch_size()));
    systems.scratch = scratch.data();
    varied_vectors().solve(systems);
    for (std::size_t n = 0; n < at_once && first + n < frequency.size(); ++n) {
        const std::complex<double> volume{0, 2 * pi * frequency[first + n] * air.density};
        for (std::size_t i = 0; i < pairs; ++i)
            to.value[(first + n) * pairs + i] =
                volume * std::complex<double>{out_re[i * at_once + n], out_im[i * at_once + n]};
    }
}

std::vector<TransferImpedance<double>> BlockedRectangle::transfer(
    std::span<const RoomVariant> variants, std::span<const double> frequency) const {
    // 1. Each shape once.
    std::vector<std::size_t> shape(variants.size()), first;
    for (std::size_t v = 0; v < variants.size(); ++v) {
        const auto known = std::find_if(first.begin(), first.end(), [&](std::size_t other) {
            return same_shape(variants[other].room, variants[v].room);
        });
        shape[v] = static_cast<std::size_t>(known - first.begin());
        if (known == first.end()) first.push_back(v);
    }
    std::vector<std::vector<double>> part(first.size());
    for_each_in_parallel(first.size(), 1,
                         [&](std::size_t n) { part[n] = parts_in(variants[first[n]].room); });

    // 2. What each place sees, then as many frequencies at a time as there are lanes.
    std::vector<TransferImpedance<double>> all;
    for (const RoomVariant& v : variants)
        all.emplace_back(frequency.size(), v.receivers.size(), v.sources.size());
    std::vector<MatrixXd> seen(variants.size());
    for_each_in_parallel(variants.size(), 1, [&](std::size_t v) {
        std::vector<Point> places = variants[v].receivers;
        places.insert(places.end(), variants[v].sources.begin(), variants[v].sources.end());
        seen[v] = functions_.transpose() * grid_.point_values(variants[v].room, places);
    });
    const std::size_t batches = (frequency.size() + at_once - 1) / at_once;
    for_each_in_parallel(variants.size() * batches, 1, [&](std::size_t job) {
        const std::size_t v = job / batches;
        solve(variants[v], part[shape[v]], seen[v], frequency, job % batches * at_once, all[v]);
    });
    return all;
}

}  // namespace boxroom
