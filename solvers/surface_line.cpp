#include "solvers/surface_line.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <utility>

#include "base/parallel.hpp"
#include "solvers/element_mesh.hpp"
#include "solvers/symmetric_elimination.hpp"

namespace boxroom {

using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;

namespace {

constexpr int deepest = 4;
constexpr Index most_functions = 48;

/// D of the class: what surfaces make of it whose scale changes on the way.
SummedSystems change_of(const ReducedModel& model, const std::vector<std::complex<double>>& way) {
    SummedSystems change{{}, {{}}};
    for (std::size_t s = 0; s < way.size(); ++s)
        if (way[s] != 0.0) {
            change.part.push_back(&model.wall[s]);
            change.scale.front().push_back(way[s]);
        }
    return change;
}

/// An orthonormal basis of the Krylov space.
MatrixXcd krylov(const SymmetricElimination<double>& inverse, const SummedSystems& change,
                 const MatrixXd& load, int depth) {
    MatrixXcd space(load.rows(), depth * load.cols());
    MatrixXcd block = load.cast<std::complex<double>>();
    for (int n = 0; n < depth; ++n) {
        if (n > 0) block = change.times(block);
        block = inverse.solved(block);
        // Blocks of any strength span the same; without this the last would be lost in rounding.
        for (Index column = 0; column < block.cols(); ++column)
            if (const double norm = block.col(column).norm(); norm > 0) block.col(column) /= norm;
        space.middleCols(n * load.cols(), load.cols()) = block;
    }
    const Index size = std::min(space.rows(), space.cols());
    return Eigen::HouseholderQR<MatrixXcd>(space).householderQ() *
           MatrixXcd::Identity(space.rows(), size);
}

}  // namespace

SurfaceLine::SurfaceLine(const ReducedModel& model, const Room& at, const Room& towards,
                         const Air& air, std::vector<double> frequency, const MatrixXd& load,
                         int depth)
    : air_(air), frequency_(std::move(frequency)), at_(frequency_.size()) {
    if (depth == 0)
        depth = std::clamp(static_cast<int>(most_functions / std::max<Index>(load.cols(), 1)), 2,
                           deepest);
    const ReducedModel own = with_equal_walls_as_one(model, surface_walls(at, air));
    for_each_in_parallel(at_.size(), 4, [&](std::size_t f) {
        At& here = at_[f];
        here.scales = operator_scales(at, air, frequency_[f]);
        here.way = operator_scales(towards, air, frequency_[f]).wall;
        for (std::size_t s = 0; s < here.way.size(); ++s) here.way[s] -= here.scales.wall[s];
        auto lower = own.lower_half(here.scales);
        const MatrixXcd whole = whole_symmetric(lower);
        const SymmetricElimination<double> inverse(lower, lower.rows());
        const SummedSystems change = change_of(model, here.way);
        here.functions = krylov(inverse, change, load, depth);
        const MatrixXcd& v = here.functions;
        here.a = v.transpose() * (whole * v).eval();
        here.d = v.transpose() * change.times(v);
        here.load = v.transpose() * load;
    });
}

/// How far along the line a room is at each frequency.
std::optional<std::vector<std::complex<double>>> SurfaceLine::share(const Room& room) const {
    constexpr double beside = 1e-9;  // of the way: rounding, no more
    std::vector<std::complex<double>> all;
    for (std::size_t f = 0; f < at_.size(); ++f) {
        const At& here = at_[f];
        const OperatorScales there = operator_scales(room, air_, frequency_[f]);
        if (there.stiffness_room != here.scales.stiffness_room ||
            there.stiffness_elsewhere != here.scales.stiffness_elsewhere ||
            there.mass != here.scales.mass || there.wall.size() != here.way.size())
            return std::nullopt;
        std::complex<double> product = 0;
        double length = 0;
        for (std::size_t s = 0; s < here.way.size(); ++s) {
            product += std::conj(here.way[s]) * (there.wall[s] - here.scales.wall[s]);
            length += std::norm(here.way[s]);
        }
        const std::complex<double> t = length > 0 ? product / length : 0;
        double off = 0, size = 0;
        for (std::size_t s = 0; s < here.way.size(); ++s) {
            off += std::norm(there.wall[s] - here.scales.wall[s] - t * here.way[s]);
            size += std::norm(there.wall[s]);
        }
        if (off > beside * beside * size) return std::nullopt;
        all.push_back(t);
    }
    return all;
}

std::optional<std::vector<MatrixXcd>> SurfaceLine::fields(const Room& room) const {
    const auto t = share(room);
    if (!t) return std::nullopt;
    std::vector<MatrixXcd> all(at_.size());
    for_each_in_parallel(all.size(), 4, [&](std::size_t f) {
        const At& here = at_[f];
        auto a = planes_across<double>(here.a + (*t)[f] * here.d);  // symmetric: its own transpose
        const SymmetricElimination<double> inverse(a, a.rows());
        all[f] = here.functions * inverse.solved(here.load);
    });
    return all;
}

}  // namespace boxroom
