#include "solvers/element_solver.hpp"

#include <complex>
#include <numbers>

#include "base/parallel.hpp"
#include "solvers/point_value.hpp"

namespace boxroom {
namespace {

std::shared_ptr<const NestedOrder> order_of(const ElementMesh& mesh) {
    std::vector<std::vector<int>> unknown;
    std::vector<std::array<double, 3>> centre;
    for (const auto& e : mesh.element) {
        unknown.push_back(e.unknown);
        const Point p = mesh.centre(e);
        centre.push_back({p.x, p.y, p.z});
    }
    return std::make_shared<const NestedOrder>(mesh.unknowns, std::move(unknown), centre);
}

}  // namespace

ElementSolver::ElementSolver(const Room& room, const Air& air, const MeshOptions& options)
    : room_(room),
      air_(air),
      matrices_(mesh_of(room, options)),
      order_(order_of(matrices_.mesh())) {}

template <typename Real>
NestedFactor<Real> ElementSolver::factor(double frequency, const Room& room) const {
    const OperatorScales here = scales(frequency, room);
    return {order_, [&](int element) { return matrices_.element_operator(element, here); }};
}
template NestedFactor<float> ElementSolver::factor(double, const Room&) const;
template NestedFactor<double> ElementSolver::factor(double, const Room&) const;

Eigen::MatrixXd ElementSolver::point_values(std::span<const Point> points) const {
    Eigen::MatrixXd value = Eigen::MatrixXd::Zero(unknowns(), static_cast<long>(points.size()));
    for (std::size_t n = 0; n < points.size(); ++n) {
        const PointValue at = point_value(matrices_.mesh(), points[n]);
        for (std::size_t i = 0; i < at.unknown.size(); ++i)
            value(at.unknown[i], static_cast<long>(n)) += at.share[i];
    }
    return value;
}

TransferImpedance<double> ElementSolver::transfer(std::span<const double> frequency,
                                                  std::span<const Point> sources,
                                                  std::span<const Point> receivers) const {
    TransferImpedance<double> z(frequency.size(), receivers.size(), sources.size());
    const Eigen::MatrixXd from = point_values(sources), to = point_values(receivers);
    for_each_in_parallel(frequency.size(), 1, [&](std::size_t f) {
        const Eigen::MatrixXcd p =
            factor<double>(frequency[f], room_).solve(from.cast<std::complex<double>>());
        const std::complex<double> load{0, 2 * std::numbers::pi * frequency[f] * air_.density};
        const Eigen::MatrixXcd heard = load * (to.transpose() * p);
        for (std::size_t r = 0; r < receivers.size(); ++r)
            for (std::size_t s = 0; s < sources.size(); ++s)
                z.at(f, r, s) = heard(static_cast<long>(r), static_cast<long>(s));
    });
    return z;
}

}  // namespace boxroom
