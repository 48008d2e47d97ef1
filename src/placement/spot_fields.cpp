#include "placement/spot_fields.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solvers/modal.hpp"

namespace boxroom {

SpotFields::SpotFields(const Scenario& scenario, const SpotGrid& grid, double smallest_volume,
                       double largest_volume)
    : extra_volume_(scenario.enclosure.extra_volume) {
    const double low = std::cbrt(smallest_volume + extra_volume_);
    const double high = std::cbrt(largest_volume + extra_volume_);
    const int nodes = high - low < 1e-9 ? 1 : 4;
    std::vector<Point> seats;
    for (const Seat& seat : scenario.seats) seats.push_back(seat.at);
    for (int n = 0; n < nodes; ++n) {
        const double t = nodes == 1 ? 0 : std::cos(std::numbers::pi * (2 * n + 1) / (2.0 * nodes));
        const double side = (low + high) / 2 + t * (high - low) / 2;
        node_.push_back(side);
        const Enclosure box = enclosure(side * side * side - extra_volume_, scenario.enclosure);
        std::vector<Point> centres;
        for (int spot = 0; spot < grid.size(); ++spot) {
            // A box too large for the room is ruled out by SpotGrid::fits; its point is only kept
            // inside.
            Point p = grid.centre(spot, box);
            p.x = std::clamp(p.x, 0.0, scenario.room.width);
            p.y = std::clamp(p.y, 0.0, scenario.room.length);
            p.z = std::clamp(p.z, 0.0, scenario.room.height);
            centres.push_back(p);
        }
        field_.push_back(
            modal_transfer_many(scenario.room, scenario.air, scenario.frequency, centres, seats));
    }
}

std::vector<double> SpotFields::weights(double net_volume) const {
    const double side = std::cbrt(net_volume + extra_volume_);
    std::vector<double> weight(node_.size(), 1.0);
    for (std::size_t n = 0; n < node_.size(); ++n)
        for (std::size_t m = 0; m < node_.size(); ++m)
            if (m != n) weight[n] *= (side - node_[m]) / (node_[n] - node_[m]);
    return weight;
}

void SpotFields::squared(double net_volume, int first, int count, std::vector<float>& out) const {
    const std::vector<double> weight = weights(net_volume);
    const std::size_t rows = field_[0].frequencies * field_[0].receivers;
    out.resize(rows * count);
    std::vector<float> re(count), im(count);
    for (std::size_t row = 0; row < rows; ++row) {
        std::fill(re.begin(), re.end(), 0.0f);
        std::fill(im.begin(), im.end(), 0.0f);
        for (std::size_t n = 0; n < node_.size(); ++n) {
            const auto* z = reinterpret_cast<const float*>(field_[n].value.data() +
                                                           row * field_[n].sources + first);
            const float w = static_cast<float>(weight[n]);
            for (int i = 0; i < count; ++i) {
                re[i] += w * z[2 * i];
                im[i] += w * z[2 * i + 1];
            }
        }
        float* to = &out[row * count];
        for (int i = 0; i < count; ++i) to[i] = re[i] * re[i] + im[i] * im[i];
    }
}

TransferImpedance<float> SpotFields::at(double net_volume) const {
    const std::vector<double> weight = weights(net_volume);
    TransferImpedance<float> z = field_[0];
    for (std::size_t i = 0; i < z.value.size(); ++i) {
        std::complex<float> sum = 0;
        for (std::size_t n = 0; n < node_.size(); ++n)
            sum += static_cast<float>(weight[n]) * field_[n].value[i];
        z.value[i] = sum;
    }
    return z;
}

}  // namespace boxroom
