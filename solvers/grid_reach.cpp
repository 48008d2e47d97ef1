#include "solvers/grid_reach.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/grid_probe.hpp"
#include "solvers/grid_run.hpp"

namespace boxroom {

bool NodeField::reaches(const NodeWeights& weights) const {
    return !empty() && std::all_of(weights.begin(), weights.end(),
                                   [&](const auto& w) { return row_of_[w.first] >= 0; });
}

std::complex<double> NodeField::at(const NodeWeights& weights, std::size_t f) const {
    std::complex<double> sum = 0;
    for (const auto& [node, weight] : weights)
        sum += weight * std::complex<double>(value_[row_of_[node] * frequencies_ + f]);
    return sum;
}

std::size_t NodeField::bytes() const {
    return row_of_.size() * sizeof(std::int32_t) + value_.size() * sizeof(std::complex<float>);
}

GridReach::GridReach(const Room& room, const Air& air, std::vector<double> frequency,
                     GridOptions options)
    : air_(air),
      frequency_(std::move(frequency)),
      options_(std::move(options)),
      width_(room.width),
      length_(room.length),
      shape_(grid_for(room, air, frequency_, options_, &fit_)),
      nodes_(grid_nodes(shape_, options_.stencil)) {}

NodeWeights GridReach::weights(const Point& point) const {
    return interpolation(shape_, nodes_, point);
}

Point GridReach::place_of(std::size_t node) const {
    const auto nx = static_cast<std::size_t>(nodes_.count[0]),
               ny = static_cast<std::size_t>(nodes_.count[1]);
    const std::size_t i = node % nx, row = node / nx, j = row % ny, k = row / ny;
    return {shape_.origin.x + shape_.spacing[0] * static_cast<double>(i),
            shape_.origin.y + shape_.spacing[1] * static_cast<double>(j),
            shape_.origin.z + shape_.spacing[2] * static_cast<double>(k)};
}

/// What interpolation takes depends on the point's cell alone: every cell of the slab is asked.
std::vector<std::size_t> GridReach::nodes_between(double low, double high) const {
    const auto& h = shape_.spacing;
    const auto cell = [&](double at, double origin, int axis) {
        return std::clamp(static_cast<int>(std::floor((at - origin) / h[axis])), 0,
                          shape_.cells[axis] - 1);
    };
    std::vector<std::size_t> found;
    for (int z = cell(low, shape_.origin.z, 2); z <= cell(high, shape_.origin.z, 2); ++z)
        for (int y = cell(0, shape_.origin.y, 1); y <= cell(length_, shape_.origin.y, 1); ++y)
            for (int x = cell(0, shape_.origin.x, 0); x <= cell(width_, shape_.origin.x, 0); ++x)
                if (shape_.is_air(x, y, z))
                    for (const auto& [node, weight] : weights({shape_.origin.x + h[0] * (x + 0.5),
                                                               shape_.origin.y + h[1] * (y + 0.5),
                                                               shape_.origin.z + h[2] * (z + 0.5)}))
                        found.push_back(node);
    return found;
}

NodeField GridReach::solve(const Point& from, double low, double high, std::span<const Point> also,
                           const std::function<void(double)>& progress,
                           const std::function<bool()>& stop) const {
    std::vector<std::size_t> wanted = nodes_between(low, high);
    for (const Point& point : also)
        for (const auto& [node, weight] : weights(point)) wanted.push_back(node);
    std::sort(wanted.begin(), wanted.end());
    wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());

    NodeField field;
    field.frequencies_ = frequency_.size();
    field.row_of_.assign(nodes_.size(), -1);
    field.value_.resize(wanted.size() * frequency_.size());
    std::vector<Point> places;
    for (std::size_t row = 0; row < wanted.size(); ++row) {
        field.row_of_[wanted[row]] = static_cast<std::int32_t>(row);
        places.push_back(place_of(wanted[row]));
    }
    GridOptions options = options_;
    bool stopped = false;
    options.progress = [&](double share, double) {
        if (progress) progress(share);
    };
    options.stop = [&] { return stopped = stopped || (stop && stop()); };
    GridReport report;
    run_grid<float>(shape_, nodes_, air_, frequency_, std::span(&from, 1), places, options, report,
                    [&](std::size_t, std::size_t point, std::size_t f, std::complex<double> z) {
                        field.value_[point * frequency_.size() + f] =
                            static_cast<std::complex<float>>(z);
                    });
    return stopped ? NodeField{} : field;
}

}  // namespace boxroom
