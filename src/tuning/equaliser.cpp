#include "tuning/equaliser.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/levels.hpp"
#include "tuning/biquad.hpp"
#include "tuning/simplex.hpp"

namespace boxroom {
namespace {

constexpr int most_filters = 16;

/// The curve that is to be flattened: deviation from the target in dB, nulls clipped. Numbers by
/// every analysed frequency, and some more that count for nothing (settings_vectors wants eights).
struct Curve {
    std::vector<double> place, deviation, weight, allowed;
    EqLimits limits;
    const Judge& judge;
    std::vector<double> power;  ///< seat average
    bool broad = false;         ///< whether the balance counts, too

    std::size_t first() const { return static_cast<std::size_t>(judge.first()); }
    std::size_t last() const { return static_cast<std::size_t>(judge.last()); }
    double frequency(std::size_t f) const { return judge.frequency()[f]; }
    double lowest() const { return frequency(first()); }
    double highest() const { return frequency(last()); }
    bool null(std::size_t f) const { return allowed[f] == 0; }

    /// What unevenness is left, the balance where it counts (its octaves draw in what lies beside
    /// the band), what breaks the rules.
    double cost(std::span<const EqFilter> filters) const {
        std::array<FilterPower, most_filters> squares;
        for (std::size_t n = 0; n < filters.size(); ++n) squares[n] = filter_power(filters[n]);
        std::vector<double> factor(place.size());
        FilteredSums sums;
        settings_vectors().filtered(squares.data(), static_cast<int>(filters.size()),
                                    {static_cast<int>(place.size()), place.data(), weight.data(),
                                     deviation.data(), allowed.data()},
                                    factor.data(), sums);
        double balance = 0;
        if (broad) {
            factor.resize(power.size());
            for (std::size_t f = 0; f < power.size(); ++f) factor[f] *= power[f];
            balance = judge.balance(factor);
        }
        return std::sqrt(std::max(0.0, sums.square - sums.mean * sums.mean)) + balance +
               10 * std::sqrt(sums.excess / static_cast<double>(power.size())) -
               0.05 * sums.lift;  // of equals the one that takes less away
    }
};

Curve curve_of(const Judge& judge, std::span<const double> power, const EqLimits& limits) {
    std::vector<double> twelfth(power.size()), whole(power.size());
    judge.twelfth()(power, twelfth);
    judge.whole()(power, whole);
    Curve curve{{}, {}, {}, {}, limits, judge, {power.begin(), power.end()}, false};
    for (const double f : judge.frequency()) curve.place.push_back(equaliser_place(f));
    const std::size_t padded = (power.size() + 7) / 8 * 8;
    curve.place.resize(padded, curve.place.back());
    curve.deviation.resize(padded);
    curve.weight.resize(padded);
    curve.allowed.assign(power.size(), limits.most_boost);
    curve.allowed.resize(padded, HUGE_VAL);
    double mean = 0;
    for (std::size_t f = curve.first(); f <= curve.last(); ++f) {
        const double broad = level_db(whole[f]), fine = level_db(twelfth[f]);
        curve.weight[f] = judge.band_weight()[f];
        // A null counts no deeper than where it begins: the rest of it cannot be mended. The
        // filters may add nothing there.
        if (fine < broad - limits.null_depth) curve.allowed[f] = 0;
        curve.deviation[f] = std::max(fine, broad - limits.null_depth) - judge.target()[f];
        mean += curve.weight[f] * curve.deviation[f];
    }
    for (std::size_t f = curve.first(); f <= curve.last(); ++f) curve.deviation[f] -= mean;
    return curve;
}

/// Filters as unbounded numbers: ln f, gain, ln Q; brought back within the limits here.
std::vector<EqFilter> within(const Curve& curve, std::span<const double> x) {
    std::vector<EqFilter> filters;
    const EqLimits& l = curve.limits;
    for (std::size_t n = 0; n + 2 < x.size(); n += 3) {
        EqFilter filter;
        filter.frequency = std::clamp(std::exp(x[n]), curve.lowest() / 1.4, curve.highest() * 1.4);
        // Beside the band only cuts: boost there would spend travel on what nobody asked for.
        const bool inside =
            filter.frequency >= curve.lowest() && filter.frequency <= curve.highest();
        filter.gain_db = std::clamp(x[n + 1], -l.most_cut, inside ? l.most_boost : 0.0);
        filter.q = std::clamp(std::exp(x[n + 2]), l.widest_q,
                              filter.gain_db > 0 ? l.sharpest_boost : l.sharpest_cut);
        filters.push_back(filter);
    }
    return filters;
}

std::vector<double> refine(const Curve& curve, const std::vector<double>& x, int evaluations) {
    std::vector<double> step;
    for (std::size_t n = 0; n < x.size(); n += 3) step.insert(step.end(), {0.08, 1.0, 0.25});
    return minimise_simplex(
        [&](std::span<const double> at) { return curve.cost(within(curve, at)); }, x, step,
        evaluations);
}

/// The best single filter to add, out of a few shapes at points of the band a twelfth of an octave
/// apart.
std::vector<double> one_more(const Curve& curve, const std::vector<double>& x) {
    std::vector<double> best;
    double lowest = 1e300;
    const auto before = within(curve, x);
    Curve left = curve;  // with the filters so far applied, so that each try costs one filter
    left.power = equalised(curve.judge, curve.power, before);
    const auto gains = equaliser_db(before, curve.judge.frequency());
    for (std::size_t f = curve.first(); f <= curve.last(); ++f) left.deviation[f] += gains[f];
    double next = 0;  // [Hz]
    for (std::size_t f = curve.first(); f <= curve.last(); ++f) {
        if (curve.frequency(f) < next * (1 - 1e-9)) continue;
        next = curve.frequency(f) * std::exp2(1.0 / 12);
        for (const double q : {0.7, 1.4, 3.0, 6.0}) {
            const double gain = -left.deviation[f] * 0.8;
            if (std::abs(gain) < 0.5 ||
                (gain > 0 && (q > curve.limits.sharpest_boost || curve.null(f))))
                continue;
            const std::vector<double> add{std::log(curve.frequency(f)), gain, std::log(q)};
            if (const double cost = left.cost(within(curve, add)); cost < lowest)
                lowest = cost, best = add;
        }
    }
    if (best.empty()) return x;
    best.insert(best.begin(), x.begin(), x.end());
    return best;
}

std::vector<EqFilter> rounded(std::vector<EqFilter> filters) {
    for (EqFilter& f : filters) {
        f.frequency = std::round(f.frequency * 2) / 2;
        f.gain_db = std::round(f.gain_db * 10) / 10;
        f.q = std::round(f.q * 100) / 100;
    }
    std::erase_if(filters, [](const EqFilter& f) { return std::abs(f.gain_db) < 0.05; });
    std::ranges::sort(filters, {}, &EqFilter::frequency);
    return filters;
}

/// A hair of boost at a null or over the limit may remain from the penalty: turn the boosts down.
void obey(const Curve& curve, std::vector<EqFilter>& filters) {
    const auto breaks = [&] {
        const auto gains = equaliser_db(filters, curve.judge.frequency());
        for (std::size_t f = 0; f < gains.size(); ++f)
            if (gains[f] - curve.allowed[f] > 0.05) return true;
        return false;
    };
    for (int round = 0; round < 200 && breaks(); ++round)
        for (EqFilter& f : filters)
            if (f.gain_db > 0) f.gain_db = std::round((f.gain_db - 0.1) * 10) / 10;
    std::erase_if(filters, [](const EqFilter& f) { return std::abs(f.gain_db) < 0.05; });
}

}  // namespace

std::vector<EqFilter> equalise(const Judge& judge, std::span<const double> power,
                               const EqLimits& limits) {
    Curve curve = curve_of(judge, power, limits);
    if (curve.last() - curve.first() < 7) return {};  // too few points to tell a peak from a slope
    // Peaks first, by the fine curve alone: one peak taken away tilts the octave average, and only
    // all of them together bring it back.
    std::vector<double> x;
    double cost = curve.cost({});
    for (int n = 0; n + 1 < std::min(limits.filters, most_filters); ++n) {
        auto more = one_more(curve, x);
        if (more.size() == x.size()) break;
        more = refine(curve, more, 60 * (n + 1));
        const double lower = curve.cost(within(curve, more));
        if (lower > cost - 0.1) break;
        x = more, cost = lower;
    }
    // Then the broad curve with them, for which one filter is kept.
    curve.broad = true;
    x = refine(curve, one_more(curve, x), 500);
    auto filters = rounded(within(curve, x));
    obey(curve, filters);
    if (curve.cost(filters) > curve.cost({}) - 0.1) filters.clear();
    return filters;
}

ByFrequency<double> equalised(const Judge& judge, const ByFrequency<double>& power,
                              std::span<const EqFilter> filters) {
    ByFrequency<double> out = power;
    const auto factor = equaliser_power(filters, judge.frequency());
    for (std::size_t f = 0; f < factor.size(); ++f)
        for (double& p : out.at(f)) p *= factor[f];
    return out;
}

std::vector<double> equalised(const Judge& judge, std::span<const double> power,
                              std::span<const EqFilter> filters) {
    const ByFrequency<double> average(power.size(), 1, 1, {power.begin(), power.end()});
    return equalised(judge, average, filters).values();
}

}  // namespace boxroom
