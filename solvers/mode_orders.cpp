#include "solvers/mode_orders.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/parallel.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

/// Middles of equal parts of a side, on which as many cosines are orthogonal, their squares' sums
/// being `count`, halved but for the constant (the cosine transform of type II).
struct Side {
    int count;
    std::vector<double> at;  ///< [m]
    Side(double length, double shortest_wave)
        : count(static_cast<int>(2 * length / shortest_wave) + 3) {
        for (int i = 0; i < count; ++i) at.push_back((i + 0.5) / count * length);
    }
    double cosine(int order, int i) const { return std::cos(order * pi * (i + 0.5) / count); }
    double square(int order) const { return order == 0 ? count : count / 2.0; }
};

struct Part {
    std::array<int, 3> order{};
    double greatest = -1;    ///< of the sums of squares that the orders make up
    double mean_square = 0;  ///< of the shape in the room
};

Part greatest_part(const FreeOscillation& free, const std::array<Side, 3>& side) {
    const auto& [x, y, z] = side;
    std::vector<std::complex<double>> shape;
    Part part;
    for (const double px : x.at)
        for (const double py : y.at)
            for (const double pz : z.at) {
                shape.push_back(free.shape({px, py, pz}));
                part.mean_square += std::norm(shape.back());
            }
    part.mean_square /= static_cast<double>(shape.size());
    for (int l = 0; l < x.count; ++l)
        for (int m = 0; m < y.count; ++m)
            for (int n = 0; n < z.count; ++n) {
                std::complex<double> sum = 0;
                std::size_t at = 0;
                for (int i = 0; i < x.count; ++i)
                    for (int j = 0; j < y.count; ++j)
                        for (int k = 0; k < z.count; ++k)
                            sum += shape[at++] * x.cosine(l, i) * y.cosine(m, j) * z.cosine(n, k);
                const double share = std::norm(sum) / (x.square(l) * y.square(m) * z.square(n));
                if (share > part.greatest) part.greatest = share, part.order = {l, m, n};
            }
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
