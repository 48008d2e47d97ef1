#include "solvers/reduced_model.hpp"

#include <utility>

namespace boxroom {

SummedSystems ReducedModel::systems(std::span<const OperatorScales> scales) const {
    SummedSystems all{{&stiffness_room, &stiffness_elsewhere, &mass}, {}};
    for (const OperatorScales& one : scales)
        all.scale.push_back({one.stiffness_room, one.stiffness_elsewhere, one.mass});
    for (std::size_t s = 0; s < wall.size(); ++s) {
        if (wall[s].size() == 0) continue;
        all.part.push_back(&wall[s]);
        for (std::size_t n = 0; n < scales.size(); ++n) all.scale[n].push_back(scales[n].wall[s]);
    }
    return all;
}

ComplexPlanes<double> ReducedModel::lower_half(const OperatorScales& scales) const {
    return std::move(systems({&scales, 1}).lower_halves().front());
}

Eigen::MatrixXcd ReducedModel::times(std::span<const OperatorScales> scales,
                                     const Eigen::MatrixXcd& x) const {
    return systems(scales).times(x);
}

ReducedModel with_equal_walls_as_one(ReducedModel model, const std::vector<Wall>& walls) {
    for (std::size_t n = 0; n < model.wall.size(); ++n)
        for (std::size_t first = 0; first < n && model.wall[n].size() > 0; ++first)
            if (model.wall[first].size() > 0 && walls[first] == walls[n]) {
                model.wall[first] += model.wall[n];
                model.wall[n].resize(0, 0);
            }
    return model;
}

std::vector<Eigen::MatrixXcd> ReducedModel::solve(std::span<const OperatorScales> scales,
                                                  const Eigen::MatrixXd& load) const {
    return systems(scales).solve(std::vector<const Eigen::MatrixXd*>(scales.size(), &load));
}

}  // namespace boxroom
