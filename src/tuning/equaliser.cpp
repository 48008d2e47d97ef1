#include "tuning/equaliser.hpp"

#include <algorithm>
#include <cmath>

#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

constexpr int most_filters = 16;

/// Filters as the search has them: ln f, gain, and where ln Q lies between its bounds, 0 to 1; a
/// boost may be less sharp than a cut, and what is between goes over smoothly.
class Shapes {
  public:
    Shapes(const Flattening& curve, const EqLimits& limits)
        : limits_(limits),
          low_(std::log(curve.frequency(curve.first()) / beside)),
          high_(std::log(curve.frequency(curve.last()) * beside)) {}

    SearchBounds bounds(std::size_t filters) const {
        const auto size = static_cast<Eigen::Index>(3 * filters);
        SearchBounds b{Eigen::VectorXd(size), Eigen::VectorXd(size), Eigen::VectorXd(size)};
        for (Eigen::Index n = 0; n < size; n += 3) {
            b.low.segment<3>(n) << low_, -limits_.most_cut, 0;
            b.high.segment<3>(n) << high_, limits_.most_boost, 1;
            b.length.segment<3>(n) << 0.08, 1, 0.1;
        }
        return b;
    }
    Eigen::VectorXd from(const std::vector<EqFilter>& filters) const {
        Eigen::VectorXd x(static_cast<Eigen::Index>(3 * filters.size()));
        for (std::size_t n = 0; n < filters.size(); ++n) {
            const EqFilter& f = filters[n];
            x.segment<3>(static_cast<Eigen::Index>(3 * n)) << std::log(f.frequency), f.gain_db,
                std::log(f.q / limits_.widest_q) / span(f.gain_db).width;
        }
        return x;
    }
    std::vector<EqFilter> to(const Eigen::VectorXd& x) const {
        std::vector<EqFilter> filters;
        for (Eigen::Index n = 0; n < x.size(); n += 3) {
            EqFilter f;
            f.frequency = std::exp(x(n)), f.gain_db = x(n + 1);
            f.q = limits_.widest_q * std::exp(x(n + 2) * span(f.gain_db).width);
            filters.push_back(f);
        }
        return filters;
    }
    /// From slopes over ln f, gain and ln Q to those over x.
    void turn(const Eigen::VectorXd& x, SquaresAt& at) const {
        for (Eigen::Index n = 0; n < x.size(); n += 3) {
            const Span s = span(x(n + 1));
            const double by_gain = x(n + 2) * s.slope;
            at.slope(n + 1) += by_gain * at.slope(n + 2);
            at.slope(n + 2) *= s.width;
            at.curvature.row(n + 1) += by_gain * at.curvature.row(n + 2);
            at.curvature.row(n + 2) *= s.width;
            at.curvature.col(n + 1) += by_gain * at.curvature.col(n + 2);
            at.curvature.col(n + 2) *= s.width;
        }
    }

  private:
    static constexpr double beside = 1.4;  ///< the band, where cuts still help the balance
    /// How far ln Q reaches, and the slope of that with the gain.
    struct Span {
        double width, slope;
    };
    Span span(double gain_db) const {
        constexpr double over = 3;  // [dB]
        const double wide = std::log(limits_.sharpest_boost / limits_.widest_q),
                     more = std::log(limits_.sharpest_cut / limits_.sharpest_boost);
        const double t = std::clamp(-gain_db / over, 0.0, 1.0);
        return {wide + more * t * t * (3 - 2 * t), -more * 6 * t * (1 - t) / over};
    }
    const EqLimits& limits_;
    double low_, high_;
};

std::vector<EqFilter> refine(const Flattening& curve, const EqLimits& limits, bool broad,
                             const std::vector<EqFilter>& start, double close) {
    constexpr int most = 200;
    const Shapes shapes(curve, limits);
    return shapes.to(
        least_within([&](const Eigen::VectorXd& x) { return curve.sum(shapes.to(x), broad); },
                     [&](const Eigen::VectorXd& x) {
                         SquaresAt at = curve.near(shapes.to(x), broad);
                         shapes.turn(x, at);
                         return at;
                     },
                     shapes.from(start), shapes.bounds(start.size()), most, close));
}

/// With the best single filter to add, out of a few shapes at points of the band a twelfth of an
/// octave apart; as they were where none helps.
std::vector<EqFilter> one_more(const Flattening& curve, const EqLimits& limits, bool broad,
                               std::vector<EqFilter> filters) {
    const Flattening left = curve.after(filters);  // so that each try costs one filter
    EqFilter best;
    double lowest = HUGE_VAL, next = 0;  // [Hz]
    for (std::size_t f = curve.first(); f <= curve.last(); ++f) {
        if (curve.frequency(f) < next * (1 - 1e-9)) continue;
        next = curve.frequency(f) * std::exp2(1.0 / 12);
        for (const double q : {0.7, 1.4, 3.0, 6.0}) {
            EqFilter add;
            add.frequency = curve.frequency(f), add.q = q;
            add.gain_db = std::clamp(-left.deviation(f) * 0.8, -limits.most_cut, limits.most_boost);
            if (std::abs(add.gain_db) < 0.5 ||
                (add.gain_db > 0 && (q > limits.sharpest_boost || curve.allowed(f) == 0)))
                continue;
            if (const double sum = left.sum({&add, 1}, broad); sum < lowest)
                lowest = sum, best = add;
        }
    }
    if (lowest < HUGE_VAL) filters.push_back(best);
    return filters;
}

std::vector<EqFilter> rounded(std::vector<EqFilter> filters) {
    for (EqFilter& f : filters) {
        f.frequency = std::round(f.frequency * 2) / 2;
        f.gain_db = std::round(f.gain_db * 10) / 10;
        const double digits = f.q < 1 ? 100 : 10;
        f.q = std::round(f.q * digits) / digits;
    }
    std::erase_if(filters, [](const EqFilter& f) { return std::abs(f.gain_db) < 0.05; });
    std::ranges::sort(filters, {}, &EqFilter::frequency);
    return filters;
}

/// A hair of boost at a null or over the limit may remain from the penalty: turn the boosts down.
void obey(const Flattening& curve, std::vector<EqFilter>& filters) {
    const auto breaks = [&] {
        const auto gains = equaliser_db(filters, curve.judge().frequency());
        for (std::size_t f = 0; f < gains.size(); ++f)
            if (gains[f] - curve.allowed(f) > 0.05) return true;
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
    const Flattening curve(judge, power, limits);
    if (curve.last() - curve.first() < 7) return {};  // too few points to tell a peak from a slope
    // Peaks first, by the fine curve alone: one peak taken away tilts the octave average, and only
    // all of them together bring it back.
    constexpr double roughly = 1e-2, exactly = 1e-8;
    std::vector<EqFilter> filters;
    double uneven = std::sqrt(curve.sum({}, false));
    for (int n = 0; n + 1 < std::min(limits.filters, most_filters); ++n) {
        auto more = one_more(curve, limits, false, filters);
        if (more.size() == filters.size()) break;
        more = refine(curve, limits, false, more, roughly);
        const double lower = std::sqrt(std::max(0.0, curve.sum(more, false)));
        if (lower > uneven - 0.1) break;
        filters = more, uneven = lower;
    }
    // Then the broad curve with them, for which one filter is kept.
    filters = rounded(refine(curve, limits, true, one_more(curve, limits, true, filters), exactly));
    obey(curve, filters);
    if (curve.left(filters) > curve.left({}) - 0.1) filters.clear();
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
