#include "placement/spot_fields.hpp"

#include <algorithm>
#include <utility>

namespace boxroom {
namespace {

/// The point itself, or some point of the room where no box can stand anyway: above or below a
/// listener's ear, for at the ear itself no source may be.
Point room_point(const Scenario& scenario, const Point& p) {
    const Room& room = scenario.acoustics.room;
    if (room.is_rectangle() || room.contains(p)) return p;
    Point beside = scenario.seats.front().at;
    for (const double up : {0.3, -0.3, 0.1, -0.1, 0.05, -0.05}) {
        beside.z = scenario.seats.front().at.z + up;
        if (room.contains(beside)) break;
    }
    return beside;
}

/// The sources of `all` in `parts` equal parts.
std::vector<TransferImpedance<float>> apart(const TransferImpedance<float>& all, int parts) {
    const std::size_t count = all.sources / parts;
    std::vector<TransferImpedance<float>> result;
    for (int n = 0; n < parts; ++n) {
        result.emplace_back(all.frequencies, all.receivers, count);
        for (std::size_t f = 0; f < all.frequencies; ++f)
            for (std::size_t r = 0; r < all.receivers; ++r)
                std::copy_n(all.row(f, r) + n * count, count, &result.back().at(f, r, 0));
    }
    return result;
}

}  // namespace

SpotFields::SpotFields(const Scenario& scenario, const SpotGrid& grid, double smallest_volume,
                       double largest_volume)
    : sizes_(smallest_volume, largest_volume, scenario.design.enclosure) {
    std::vector<Point> seats;
    for (const Seat& seat : scenario.seats) seats.push_back(seat.at);
    std::vector<Point> all;  // a grid finds every point in the same run
    for (std::size_t n = 0; n < sizes_.size(); ++n) {
        const Sides box = sizes_.box(n);
        std::vector<Point> centres;
        for (int spot = 0; spot < grid.size(); ++spot) {
            // A box too large for the room is ruled out by SpotGrid::fits; its point is only kept
            // inside.
            Point p = grid.centre(spot, box);
            p.x = std::clamp(p.x, 0.0, scenario.acoustics.room.width);
            p.y = std::clamp(p.y, 0.0, scenario.acoustics.room.length);
            p.z = std::clamp(p.z, 0.0, scenario.acoustics.room.height);
            centres.push_back(room_point(scenario, p));
        }
        all.insert(all.end(), centres.begin(), centres.end());
        if (scenario.acoustics.solver.solver == RoomSolver::modal || n + 1 == sizes_.size())
            field_.push_back(room_transfer_many(
                scenario.acoustics.room, scenario.acoustics.air, scenario.acoustics.frequency,
                std::exchange(all, {}), seats, scenario.acoustics.solver));
    }
    if (field_.size() < sizes_.size())
        field_ = apart(field_.front(), static_cast<int>(sizes_.size()));
}

void SpotFields::squared(double net_volume, int first, int count, std::vector<float>& out) const {
    const std::vector<double> weight = sizes_.weights(net_volume);
    const std::size_t rows = field_[0].frequencies * field_[0].receivers;
    out.resize(rows * count);
    std::vector<float> re(count), im(count);
    for (std::size_t row = 0; row < rows; ++row) {
        std::fill(re.begin(), re.end(), 0.0f);
        std::fill(im.begin(), im.end(), 0.0f);
        for (std::size_t n = 0; n < field_.size(); ++n) {
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
    const std::vector<double> weight = sizes_.weights(net_volume);
    TransferImpedance<float> z = field_[0];
    for (std::size_t i = 0; i < z.value.size(); ++i) {
        std::complex<float> sum = 0;
        for (std::size_t n = 0; n < field_.size(); ++n)
            sum += static_cast<float>(weight[n]) * field_[n].value[i];
        z.value[i] = sum;
    }
    return z;
}

}  // namespace boxroom
