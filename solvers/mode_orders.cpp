#include "solvers/mode_orders.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/parallel.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

/// Middles of equal parts of a side, on which as many cosines are orthogonal (the cosine transform
/// of type II).
struct Side {
    std::vector<double> at;   ///< [m]
    Eigen::MatrixXcd cosine;  ///< parts x orders, the squares of each adding up to one
    Side(double length, double shortest_wave) {
        const int count = static_cast<int>(2 * length / shortest_wave) + 3;
        cosine.resize(count, count);
        for (int i = 0; i < count; ++i) {
            at.push_back((i + 0.5) / count * length);
            for (int order = 0; order < count; ++order)
                cosine(i, order) = std::sqrt((order == 0 ? 1.0 : 2.0) / count) *
                                   std::cos(order * pi * (i + 0.5) / count);
        }
    }
};

struct Part {
    std::array<int, 3> order{};
    double mean_square = 0;  ///< of the shape in the room
};

/// The orders whose product of cosines has most of the shape's square.
Part greatest_part(const FreeOscillation& free, const std::array<Side, 3>& side) {
    const auto& [x, y, z] = side;
    const auto columns = static_cast<Eigen::Index>(x.at.size() * y.at.size());
    const auto heights = static_cast<Eigen::Index>(z.at.size());
    Eigen::MatrixXcd shape(heights, columns);  // [x][y][z]
    Eigen::Index at = 0;
    for (const double px : x.at)
        for (const double py : y.at)
            for (const double pz : z.at) shape.data()[at++] = free.shape({px, py, pz});
    Part part{{}, shape.cwiseAbs2().mean()};
    // The last axis in sums over its cosines, which then becomes the first; three times over.
    for (int axis = 2; axis >= 0; --axis) {
        const Eigen::Index count = side[axis].cosine.rows();
        const Eigen::Map<const Eigen::MatrixXcd> last(shape.data(), count, shape.size() / count);
        shape = Eigen::MatrixXcd(last.transpose() * side[axis].cosine);
    }
    Eigen::Index most = 0;
    Eigen::Map<const Eigen::VectorXcd>(shape.data(), shape.size()).cwiseAbs2().maxCoeff(&most);
    const auto of_y = static_cast<Eigen::Index>(y.at.size());
    part.order = {static_cast<int>(most / heights / of_y), static_cast<int>(most / heights % of_y),
                  static_cast<int>(most % heights)};
    return part;
}

}  // namespace

void name_orders(const Room& room, std::span<FreeOscillation> modes) {
    if (modes.empty()) return;
    double highest = 0;
    for (const FreeOscillation& free : modes) highest = std::max(highest, free.mode.frequency);
    const double wave = Air{}.speed_of_sound / highest;
    const std::array<Side, 3> side{Side(room.width, wave), Side(room.length, wave),
                                   Side(room.height, wave)};
    for_each_in_parallel(modes.size(), 1, [&](std::size_t n) {
        const Part part = greatest_part(modes[n], side);
        modes[n].mode.order = part.order;
        modes[n].mode.next_door =
            part.mean_square * room.volume() < 0.5 * modes[n].square_everywhere;
    });
}

}  // namespace boxroom
