#include "placement/spot_fields.hpp"

#include <algorithm>
#include <utility>

#include "placement/array_vectors.hpp"

namespace boxroom {

namespace {

/// The point itself, or some point of the room where no box can stand anyway: above or below a
/// listener's ear, for at the ear itself no source may be.
Point room_point(const Scenario& scenario, const Point& p) {
    const Room& room = scenario.acoustics.room;
    if (room.is_rectangle() || in_air(room, p)) return p;
    Point beside = scenario.seats.front().at;
    for (const double up : {0.3, -0.3, 0.1, -0.1, 0.05, -0.05}) {
        beside.z = scenario.seats.front().at.z + up;
        if (room.contains(beside)) break;
    }
    return beside;
}

/// Of sources [node][all] those of the spots in `some`; both rise.
TransferImpedance<float> picked(const TransferImpedance<float>& z, const std::vector<int>& all,
                                const std::vector<int>& some) {
    std::vector<std::size_t> sources;
    for (std::size_t node = 0; node < z.sources / all.size(); ++node)
        for (std::size_t i = 0, next = 0; next < some.size(); ++i)
            if (all[i] == some[next]) sources.push_back(node * all.size() + i), ++next;
    TransferImpedance<float> out(z.frequencies, z.receivers, sources.size());
    for (std::size_t row = 0; row < z.frequencies * z.receivers; ++row)
        for (std::size_t i = 0; i < sources.size(); ++i)
            out.value[row * out.sources + i] = z.value[row * z.sources + sources[i]];
    return out;
}

}  // namespace

SpotFields::SpotFields(const Scenario& scenario, const SpotGrid& grid, double smallest_volume,
                       double largest_volume, std::span<const std::uint8_t> wanted)
    : sizes_(smallest_volume, largest_volume, scenario.design.enclosure) {
    // Where a run on a grid ends depends on the points that it is listened to at: always all.
    std::vector<int> solved;
    const bool grid_run = scenario.acoustics.solver.solver == RoomSolver::grid;
    for (int spot = 0; spot < grid.size(); ++spot) {
        const bool want = wanted.empty() || wanted[spot];
        if (want) spots_.push_back(spot);
        if (want || grid_run) solved.push_back(spot);
    }
    const std::vector<Point> seats = places_of(scenario.seats);
    std::vector<Point> centres;  // all at once: the room's modes and a grid's run are the same
    for (std::size_t n = 0; n < sizes_.size(); ++n) {
        const Sides box = sizes_.box(n);
        for (const int spot : solved) {
            // A box too large for the room is ruled out by SpotGrid::fits; its point is only kept
            // inside.
            Point p = grid.centre(spot, box);
            p.x = std::clamp(p.x, 0.0, scenario.acoustics.room.width);
            p.y = std::clamp(p.y, 0.0, scenario.acoustics.room.length);
            p.z = std::clamp(p.z, 0.0, scenario.acoustics.room.height);
            centres.push_back(room_point(scenario, p));
        }
    }
    field_ = {scenario.acoustics.frequency.size(), seats.size(), 0};
    if (!spots_.empty())
        field_ = room_transfer_many(scenario.acoustics.room, scenario.acoustics.air,
                                    scenario.acoustics.frequency, centres, seats,
                                    scenario.acoustics.solver);
    if (solved.size() > spots_.size()) field_ = picked(field_, solved, spots_);
}

int SpotFields::number(int spot) const {
    return static_cast<int>(std::lower_bound(spots_.begin(), spots_.end(), spot) - spots_.begin());
}

std::vector<float> SpotFields::product_weights(double net_volume) const {
    const std::vector<double> weight = sizes_.weights(net_volume);
    std::vector<float> products;
    for (std::size_t a = 0; a < weight.size(); ++a)
        for (std::size_t b = a; b < weight.size(); ++b)
            products.push_back(static_cast<float>(weight[a] * weight[b]));
    return products;
}

TransferImpedance<float> SpotFields::at(double net_volume) const& {
    const std::vector<double> weight = sizes_.weights(net_volume);
    if (weight.size() == 1) return field_;
    const std::size_t count = spots_.size();
    TransferImpedance<float> z(field_.frequencies, field_.receivers, count);
    for (std::size_t row = 0; row < field_.frequencies * field_.receivers; ++row)
        for (std::size_t n = 0; n < weight.size(); ++n) {
            const std::complex<float>* from = &field_.value[row * field_.sources + n * count];
            for (std::size_t i = 0; i < count; ++i)
                z.value[row * count + i] += static_cast<float>(weight[n]) * from[i];
        }
    return z;
}

TransferImpedance<float> SpotFields::at(double net_volume) && {
    return sizes_.size() == 1 ? std::move(field_) : std::as_const(*this).at(net_volume);
}

std::vector<double> SpotMean::times(std::span<const double> scale,
                                    std::span<const float> product_weights) const {
    std::vector<double> out(scale.size());
    array_vectors().weighted_sum(static_cast<int>(product_weights.size()), product_weights.data(),
                                 products.data(), static_cast<int>(stride), scale.data(),
                                 static_cast<int>(out.size()), out.data());
    return out;
}

SpotBlock::SpotBlock(const SpotFields& fields, int first)
    : fields_(fields),
      count_(std::min(most, fields.size() - first)),
      stride_((fields.field_.frequencies + 15) / 16 * 16) {
    const auto& z = fields.field_;
    const std::size_t nodes = fields.sizes_.size(), each = nodes * z.receivers * stride_;
    re_.assign(count_ * each, 0.0f);
    im_.assign(count_ * each, 0.0f);
    // A few frequencies at a time: what is read in rows of spots and written in rows of frequencies
    // stays near meanwhile.
    constexpr std::size_t few = 16;
    for (std::size_t node = 0; node < nodes; ++node)
        for (std::size_t s = 0; s < z.receivers; ++s)
            for (std::size_t low = 0; low < z.frequencies; low += few) {
                const std::size_t high = std::min(low + few, z.frequencies);
                const std::size_t from = node * fields.spots_.size() + first;
                const std::size_t rows = high - low, row_step = z.receivers * z.sources;
                for (int i = 0; i < count_; ++i) {
                    const std::complex<float>* at = z.row(low, s) + from + i;
                    const std::size_t to = i * each + (node * z.receivers + s) * stride_ + low;
                    float *re = &re_[to], *im = &im_[to];
                    for (std::size_t f = 0; f < rows; ++f)
                        re[f] = at[f * row_step].real(), im[f] = at[f * row_step].imag();
                }
            }
}

ByFrequency<double> SpotBlock::squared(int n, double net_volume) const {
    const std::size_t seats = fields_.field_.receivers, nodes = fields_.sizes_.size();
    const std::vector<double> weight = fields_.sizes_.weights(net_volume);
    ByFrequency<double> out(fields_.field_.frequencies, seats);
    for (std::size_t s = 0; s < seats; ++s)
        for (std::size_t f = 0; f < out.frequencies(); ++f) {
            double re = 0, im = 0;
            for (std::size_t node = 0; node < nodes; ++node) {
                const std::size_t at = ((n * nodes + node) * seats + s) * stride_ + f;
                re += weight[node] * re_[at];
                im += weight[node] * im_[at];
            }
            out(f, s) = re * re + im * im;
        }
    return out;
}

SpotMean SpotBlock::mean(int n, std::span<const double> seat_weight) const {
    const std::vector<float> weight(seat_weight.begin(), seat_weight.end());
    const std::size_t nodes = fields_.sizes_.size(), each = nodes * weight.size() * stride_;
    SpotMean mean{stride_, std::vector<float>(nodes * (nodes + 1) / 2 * stride_)};
    array_vectors().products({static_cast<int>(nodes), static_cast<int>(weight.size()),
                              static_cast<int>(stride_), &re_[n * each], &im_[n * each]},
                             weight.data(), mean.products.data());
    return mean;
}

}  // namespace boxroom
