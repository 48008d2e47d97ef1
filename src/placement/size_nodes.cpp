#include "placement/size_nodes.hpp"

#include <cmath>
#include <numbers>

namespace boxroom {

SizeNodes::SizeNodes(double smallest_volume, double largest_volume, const EnclosureRules& rules)
    : rules_(rules) {
    const double low = std::cbrt(inner_volume(smallest_volume, rules));
    const double high = std::cbrt(inner_volume(largest_volume, rules));
    const int nodes = high - low < 1e-9 ? 1 : 4;
    for (int n = 0; n < nodes; ++n) {
        const double t = nodes == 1 ? 0 : std::cos(std::numbers::pi * (2 * n + 1) / (2.0 * nodes));
        side_.push_back((low + high) / 2 + t * (high - low) / 2);
    }
}

Sides SizeNodes::box(std::size_t node) const {
    return outer_sides(inner_sides(std::pow(side_[node], 3), rules_), rules_);
}

std::vector<double> SizeNodes::weights(double net_volume) const {
    const double side = std::cbrt(inner_volume(net_volume, rules_));
    std::vector<double> weight(side_.size(), 1.0);
    for (std::size_t n = 0; n < side_.size(); ++n)
        for (std::size_t m = 0; m < side_.size(); ++m)
            if (m != n) weight[n] *= (side - side_[m]) / (side_[n] - side_[m]);
    return weight;
}

}  // namespace boxroom
