#include "tuning/equaliser.hpp"

#include <algorithm>
#include <cmath>

#include "placement/many_levels.hpp"
#include "tuning/biquad.hpp"
#include "tuning/simplex.hpp"

namespace boxroom {
namespace {

/// The curve that is to be flattened, in the band: deviation from the target in dB.
struct Curve {
    std::vector<double> frequency, deviation, weight;
    std::vector<bool> null;
    EqLimits limits;
    const Judge& judge;
    std::vector<double> power;  ///< seat average, every analysed frequency
    bool broad = false;         ///< whether the balance counts, too

    /// How far the filters' sum at each analysed frequency is above what it may be: nothing in a
    /// null, most_boost elsewhere, beside the band too.
    double over(std::span<const double> gains, std::size_t f) const {
        const std::size_t n = f - judge.first();  // wraps round below the band: no null there
        return gains[f] - (n < null.size() && null[n] ? 0 : limits.most_boost);
    }

    /// What unevenness is left (nulls clipped), the balance where it counts (its octaves draw in
    /// what lies beside the band), what breaks the rules.
    double cost(std::span<const EqFilter> filters) const {
        const auto factor = equaliser_power(filters, judge.frequency());
        auto gains = levels_db(factor);
        for (double& gain : gains) gain -= level_db(1);
        double mean = 0, square = 0, penalty = 0, lift = 0;
        for (std::size_t n = 0; n < frequency.size(); ++n) {
            const double gain = gains[judge.first() + n], d = deviation[n] + gain;
            mean += weight[n] * d;
            square += weight[n] * d * d;
            lift += weight[n] * gain;
        }
        std::vector<double> after = power;
        for (std::size_t f = 0; f < gains.size(); ++f) {
            if (broad) after[f] *= factor[f];
            const double much = std::max(0.0, over(gains, f));
            penalty += much * much / static_cast<double>(gains.size());
        }
        return std::sqrt(std::max(0.0, square - mean * mean)) + (broad ? judge.balance(after) : 0) +
               10 * std::sqrt(penalty) - 0.05 * lift;  // of equals the one that takes less away
    }
};

Curve curve_of(const Judge& judge, std::span<const double> power, const EqLimits& limits) {
    std::vector<double> twelfth(power.size()), whole(power.size());
    judge.twelfth()(power, twelfth);
    judge.whole()(power, whole);
    Curve curve{{}, {}, {}, {}, limits, judge, {power.begin(), power.end()}, false};
    double mean = 0;
    for (int f = judge.first(); f <= judge.last(); ++f) {
        const double broad = level_db(whole[f]), fine = level_db(twelfth[f]);
        curve.frequency.push_back(judge.frequency()[f]);
        curve.weight.push_back(judge.band_weight()[f]);
        curve.null.push_back(fine < broad - limits.null_depth);
        // A null counts no deeper than where it begins: the rest of it cannot be mended.
        curve.deviation.push_back(std::max(fine, broad - limits.null_depth) - judge.target()[f]);
        mean += curve.weight.back() * curve.deviation.back();
    }
    for (double& d : curve.deviation) d -= mean;
    return curve;
}

/// Filters as unbounded numbers: ln f, gain, ln Q; brought back within the limits here.
std::vector<EqFilter> within(const Curve& curve, std::span<const double> x) {
    std::vector<EqFilter> filters;
    const EqLimits& l = curve.limits;
    for (std::size_t n = 0; n + 2 < x.size(); n += 3) {
        EqFilter filter;
        filter.frequency =
            std::clamp(std::exp(x[n]), curve.frequency.front() / 1.4, curve.frequency.back() * 1.4);
        // Beside the band only cuts: boost there would spend travel on what nobody asked for.
        const bool inside = filter.frequency >= curve.frequency.front() &&
                            filter.frequency <= curve.frequency.back();
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
    const auto gains = equaliser_db(before, curve.frequency);
    for (std::size_t f = 0; f < gains.size(); ++f) left.deviation[f] += gains[f];
    double next = 0;  // [Hz]
    for (std::size_t f = 0; f < curve.frequency.size(); ++f) {
        if (curve.frequency[f] < next * (1 - 1e-9)) continue;
        next = curve.frequency[f] * std::exp2(1.0 / 12);
        for (const double q : {0.7, 1.4, 3.0, 6.0}) {
            const double gain = -left.deviation[f] * 0.8;
            if (std::abs(gain) < 0.5 ||
                (gain > 0 && (q > curve.limits.sharpest_boost || curve.null[f])))
                continue;
            const std::vector<double> add{std::log(curve.frequency[f]), gain, std::log(q)};
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
            if (curve.over(gains, f) > 0.05) return true;
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
    if (curve.frequency.size() < 8) return {};  // too few points to tell a peak from a slope
    // Peaks first, by the fine curve alone: one peak taken away tilts the octave average, and only
    // all of them together bring it back.
    std::vector<double> x;
    double cost = curve.cost({});
    for (int n = 0; n + 1 < limits.filters; ++n) {
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
