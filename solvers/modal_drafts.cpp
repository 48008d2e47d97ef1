#include "solvers/modal_drafts.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solvers/floor_sum.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

using Workspace = FloorSum::Workspace;

/// Some of the frequencies, six to the octave, with cubics in ln f that lead from one to the next.
class Nodes {
  public:
    static constexpr int most = 4;  ///< that a frequency lies between
    struct Share {
        std::size_t first, count;  ///< of the nodes that count
        std::array<double, most> weight{};
    };
    explicit Nodes(std::span<const double> frequency) {
        for (const double f : frequency) log_.push_back(std::log(f));
        for (std::size_t f = 0; f < log_.size(); ++f)
            if (f == 0 || f + 1 == log_.size() ||
                log_[f + 1] - log_[at_.back()] > step * (1 + 1e-9))
                at_.push_back(f);
    }
    /// Numbers of the frequencies that they are.
    const std::vector<std::size_t>& at() const { return at_; }
    Share share(std::size_t f) const;

  private:
    static constexpr double step = 0.1155245301;  ///< in ln f: six to the octave
    std::vector<double> log_;
    std::vector<std::size_t> at_;
};

Nodes::Share Nodes::share(std::size_t f) const {
    const std::size_t after = std::upper_bound(at_.begin(), at_.end(), f) - at_.begin();
    const std::size_t count = std::min<std::size_t>(most, at_.size());
    Share out{std::min(after > 2 ? after - 2 : 0, at_.size() - count), count};
    const auto between = [&](std::size_t i, std::size_t k) { return log_[i] - log_[k]; };
    for (std::size_t i = 0; i < count; ++i) {
        double& weight = out.weight[i] = 1;
        for (std::size_t k = 0; k < count; ++k)
            if (k != i)
                weight *= between(f, at_[out.first + k]) /
                          between(at_[out.first + i], at_[out.first + k]);
    }
    return out;
}

/// What changes slowly with frequency is worked out at the nodes: the terms that decay at all
/// frequencies, whose sum follows the cubics, and the eigenvalues along two axes, which the cubics
/// give nearly. What is left at each frequency are the terms that spread.
class Draft {
  public:
    Draft(const FloorSum& sum, std::span<const double> frequency);
    /// The transfer at one of them, to w.out.
    void at(std::size_t f, Workspace& w) const;

  private:
    const FloorSum& sum_;
    std::span<const double> frequency_;
    Nodes nodes_;
    FloorSum::Rows near_;  ///< that spread at some frequency
    std::vector<FloorSum::Eigenvalues> q2_;
    std::vector<Planes<float>> far_;
};

Draft::Draft(const FloorSum& sum, std::span<const double> frequency)
    : sum_(sum),
      frequency_(frequency),
      nodes_(frequency),
      near_(sum.spreading_terms(1.5 * frequency.back())) {
    FloorSum::Rows rows = sum.all_terms(frequency.back());
    for (std::size_t m = 0; m < rows.end.size() && m < near_.end.size(); ++m)
        rows.begin[m] = near_.end[m] = std::min(near_.end[m], rows.end[m]);
    near_.end.resize(std::min(near_.end.size(), rows.end.size()));
    Workspace w;
    for (const std::size_t f : nodes_.at()) {
        sum.add_up(frequency[f], rows, w);
        far_.push_back(w.out);
        q2_.push_back(w.q2);
    }
}

/// Adds the nodes' planes to another by the cubics.
template <typename Real, typename Of>
void add_blended(const Nodes::Share& share, const Of& of, Planes<Real>& to) {
    for (std::size_t i = 0; i < share.count; ++i) {
        const Real weight = static_cast<Real>(share.weight[i]);
        const Planes<Real>& from = of(share.first + i);
        for (std::size_t n = 0; n < to.re.size(); ++n) {
            to.re[n] += weight * from.re[n];
            to.im[n] += weight * from.im[n];
        }
    }
}

void Draft::at(std::size_t f, Workspace& w) const {
    const Nodes::Share share = nodes_.share(f);
    for (auto axis : {&FloorSum::Eigenvalues::m, &FloorSum::Eigenvalues::n}) {
        Planes<double>& q2 = w.q2.*axis;
        const std::size_t size = (q2_.front().*axis).re.size();
        q2.re.assign(size, 0), q2.im.assign(size, 0);
        add_blended(
            share, [&](std::size_t n) -> auto& { return q2_[n].*axis; }, q2);
    }
    sum_.add_up_from_near(frequency_[f], near_, w);
    add_blended(
        share, [&](std::size_t n) -> auto& { return far_[n]; }, w.out);
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
    auto result =
        TransferImpedance<float>::unfilled(frequency.size(), receivers.size(), sources.size());
    if (result.value.empty()) return result;
    const FloorLayout layout = lay_out_floor(sources, receivers);
    if (layout.distance < FloorSum::least_distance)
        return modal_transfer_many(room, air, frequency, sources, receivers, decay);
    const FloorSum sum(room, air, layout, receivers, decay);
    // An octave after the other: few terms spread at the low ones, where most frequencies are.
    constexpr std::size_t fewest = 24;  // that are worth an octave of their own
    for (std::size_t end = frequency.size(); end > 0;) {
        std::size_t first =
            std::lower_bound(frequency.begin(), frequency.begin() + end, frequency[end - 1] / 2) -
            frequency.begin();
        if (first < fewest) first = 0;
        const Draft draft(sum, frequency.subspan(first, end - first));
        for_each_in_parallel_with<Workspace>(end - first, 4, [&](std::size_t f, Workspace& w) {
            draft.at(f, w);
            sum.give(w, &result.at(first + f, 0, 0));
        });
        end = first;
    }
    return result;
}

Mode first_order_mode(const Room& room, const Air& air, const std::array<int, 3>& order) {
    const double rigid = rigid_frequency(room, air, order);
    const double decay = first_order_decay(room, air, order, rigid);
    return {order, rigid, 3 * std::log(10.0) / decay, pi * rigid / decay};
}

}  // namespace boxroom
