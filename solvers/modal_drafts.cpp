#include "solvers/modal_drafts.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/floor_sum.hpp"
#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

using Workspace = FloorSum::Workspace;

/// Terms that decay at all frequencies change slowly with it: they are summed at some frequencies,
/// and cubics in ln f lead from one to the next.
class FarSums {
  public:
    FarSums(const FloorSum& sum, std::span<const double> frequency);
    /// Adds them to w.out.
    void add(std::size_t f, Workspace& w) const;
    FloorSum::Rows near;  ///< what is left to be summed at each frequency

  private:
    static constexpr double step = 0.1155245301;  ///< in ln f: six to the octave
    std::span<const double> frequency_;
    std::vector<std::size_t> node_;
    std::vector<Planes<float>> far_;
};

FarSums::FarSums(const FloorSum& sum, std::span<const double> frequency)
    : near(sum.spreading_terms(1.3 * frequency.back())), frequency_(frequency) {
    FloorSum::Rows rows = sum.all_terms(frequency.back());
    for (std::size_t m = 0; m < rows.end.size() && m < near.end.size(); ++m)
        rows.begin[m] = near.end[m] = std::min(near.end[m], rows.end[m]);
    near.end.resize(std::min(near.end.size(), rows.end.size()));
    for (std::size_t f = 0; f < frequency.size(); ++f)
        if (f == 0 || f + 1 == frequency.size() ||
            std::log(frequency[f + 1] / frequency[node_.back()]) > step * (1 + 1e-9))
            node_.push_back(f);
    Workspace w;
    for (const std::size_t f : node_) {
        sum.add_up(frequency[f], rows, w);
        far_.push_back(w.out);
    }
}

void FarSums::add(std::size_t f, Workspace& w) const {
    const std::size_t after = std::upper_bound(node_.begin(), node_.end(), f) - node_.begin();
    const std::size_t count = std::min<std::size_t>(4, node_.size()),
                      first = std::min(after > 2 ? after - 2 : 0, node_.size() - count);
    const auto between = [&](std::size_t i, std::size_t k) {
        return std::log(frequency_[i] / frequency_[k]);
    };
    for (std::size_t i = first; i < first + count; ++i) {
        double weight = 1;
        for (std::size_t k = first; k < first + count; ++k)
            if (k != i) weight *= between(f, node_[k]) / between(node_[i], node_[k]);
        const float share = static_cast<float>(weight);
        for (std::size_t n = 0; n < w.out.re.size(); ++n) {
            w.out.re[n] += share * far_[i].re[n];
            w.out.im[n] += share * far_[i].im[n];
        }
    }
}

double rigid_frequency(const Room& room, const Air& air, const std::array<int, 3>& order) {
    return air.speed_of_sound / 2 *
           std::hypot(order[0] / room.width, order[1] / room.length, order[2] / room.height);
}

/// First-order decay rate of a mode: (c/2) sum_a eps_a Re(b0 + b1)/L_a [1/s], eps_a = 1 for order
/// 0, else 2, at its rigid frequency (Morse & Ingard 1968, ch. 9), with that of the contents.
double first_order_decay(const Room& room, const Air& air, const std::array<int, 3>& order,
                         double rigid) {
    const double omega = 2 * pi * rigid;
    const auto side = sides(room);
    double decay = room.contents.decay_rate(omega, air, room.volume()).real();
    for (int a = 0; a < 3; ++a)
        decay += air.speed_of_sound / 2 * (order[a] == 0 ? 1 : 2) *
                 (room.walls[2 * a].admittance(omega, air) +
                  room.walls[2 * a + 1].admittance(omega, air))
                     .real() /
                 side[a];
    return decay;
}

}  // namespace

TransferImpedance<float> modal_transfer_draft(const Room& room, const Air& air,
                                              std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers, double decay) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    TransferImpedance<float> result(frequency.size(), receivers.size(), sources.size());
    if (result.value.empty()) return result;
    const FloorLayout layout = lay_out_floor(sources, receivers);
    if (layout.distance < FloorSum::least_distance)
        return modal_transfer_many(room, air, frequency, sources, receivers, decay);
    const FloorSum sum(room, air, layout, receivers, decay);
    const FarSums far(sum, frequency);
    for_each_in_parallel_with<Workspace>(frequency.size(), 4, [&](std::size_t f, Workspace& w) {
        sum.add_up(frequency[f], far.near, w);
        far.add(f, w);
        sum.give(w, &result.at(f, 0, 0));
    });
    add_openings(room, air, frequency, sources, receivers, result);
    return result;
}

Mode first_order_mode(const Room& room, const Air& air, const std::array<int, 3>& order) {
    const double rigid = rigid_frequency(room, air, order);
    const double decay = first_order_decay(room, air, order, rigid);
    return {order, rigid, 3 * std::log(10.0) / decay, pi * rigid / decay};
}

}  // namespace boxroom
