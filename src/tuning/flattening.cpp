#include "tuning/flattening.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "base/levels.hpp"
#include "placement/many_levels.hpp"
#include "tuning/biquad.hpp"
#include "tuning/settings_vectors.hpp"

namespace boxroom {
namespace {

using Eigen::ArrayXd;
using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double decibels = 4.342944819032518;  ///< of a power that grows by e: 10/ln 10
constexpr double for_balance = 2, for_excess = 2, for_lift = 0.1;

std::vector<FilterPower> powers_of(std::span<const EqFilter> filters) {
    std::vector<FilterPower> all;
    for (const EqFilter& filter : filters) all.push_back(filter_power(filter));
    return all;
}

/// Slopes of |H|^2's numbers with ln f, gain [dB] and ln Q: smooth functions of them, so that
/// central differences lose no digit that counts.
std::array<FilterPower, 3> slopes_of(const EqFilter& filter) {
    constexpr double h = 1e-4;
    std::array<FilterPower, 3> slopes;
    for (int p = 0; p < 3; ++p) {
        const auto moved = [&](double by) {
            EqFilter there = filter;
            if (p == 0) there.frequency *= std::exp(by);
            if (p == 1) there.gain_db += by;
            if (p == 2) there.q *= std::exp(by);
            return filter_power(there);
        };
        const FilterPower a = moved(h), b = moved(-h);
        slopes[p] = {(a.n0 - b.n0) / (2 * h), (a.n1 - b.n1) / (2 * h), (a.n2 - b.n2) / (2 * h),
                     (a.d0 - b.d0) / (2 * h), (a.d1 - b.d1) / (2 * h), (a.d2 - b.d2) / (2 * h)};
    }
    return slopes;
}

/// a' b, which is symmetric: half of it is worked out.
MatrixXd symmetric_product(const MatrixXd& a, const MatrixXd& b) {
    MatrixXd product(a.cols(), b.cols());
    product.triangularView<Eigen::Lower>() = a.transpose() * b;
    product.triangularView<Eigen::StrictlyUpper>() = product.transpose();
    return product;
}

}  // namespace

Flattening::Flattening(const Judge& judge, std::span<const double> power, const EqLimits& limits)
    : judge_(&judge), count_(power.size()), power_(power.begin(), power.end()) {
    if (power.size() != judge.frequency().size())
        throw std::length_error("a response and a judge of unlike frequencies");
    std::vector<double> twelfth(count_), whole(count_);
    judge.twelfth()(power, twelfth);
    judge.whole()(power, whole);
    for (const double f : judge.frequency()) place_.push_back(equaliser_place(f));
    const std::size_t padded = (count_ + 7) / 8 * 8;
    place_.resize(padded, place_.back());
    deviation_.resize(padded);
    weight_.resize(padded);
    for (const double f : judge.frequency()) {
        const double beside =
            std::max({0.0, std::log2(frequency(first()) / f), std::log2(f / frequency(last()))});
        allowed_.push_back(limits.most_boost * std::max(0.0, 1 - 2 * beside));
    }
    allowed_.resize(padded, HUGE_VAL);
    double mean = 0;
    for (std::size_t f = first(); f <= last(); ++f) {
        const double broad = level_db(whole[f]), fine = level_db(twelfth[f]);
        weight_[f] = judge.band_weight()[f];
        // A null counts no deeper than where it begins: the rest of it cannot be mended. The
        // filters may add nothing there.
        if (fine < broad - limits.null_depth) allowed_[f] = 0;
        deviation_[f] = std::max(fine, broad - limits.null_depth) - judge.target()[f];
        mean += weight_[f] * deviation_[f];
    }
    for (std::size_t f = first(); f <= last(); ++f) deviation_[f] -= mean;
}

Flattening Flattening::after(std::span<const EqFilter> filters) const {
    Flattening left = *this;
    const auto factor = equaliser_power(filters, judge_->frequency());
    const auto gain = gains_db(factor);
    for (std::size_t f = 0; f < count_; ++f) left.power_[f] *= factor[f];
    for (std::size_t f = first(); f <= last(); ++f) left.deviation_[f] += gain[f];
    return left;
}

Flattening::Effect Flattening::effect(std::span<const EqFilter> filters, bool broad) const {
    const auto squares = powers_of(filters);
    Effect effect;
    effect.factor.resize(place_.size());
    FilteredSums sums;
    settings_vectors().filtered(squares.data(), static_cast<int>(squares.size()),
                                {static_cast<int>(place_.size()), place_.data(), weight_.data(),
                                 deviation_.data(), allowed_.data()},
                                effect.factor.data(), sums);
    effect.factor.resize(count_);
    effect.mean = sums.mean;
    effect.uneven = std::sqrt(std::max(0.0, sums.square - sums.mean * sums.mean));
    effect.excess = sums.excess;
    effect.lift = sums.lift;
    if (broad) {
        std::vector<double> power = effect.factor;
        for (std::size_t f = 0; f < count_; ++f) power[f] *= power_[f];
        effect.balance = judge_->balance(power);
    }
    return effect;
}

double Flattening::left(std::span<const EqFilter> filters) const {
    const Effect e = effect(filters, true);
    return e.uneven + e.balance + 10 * std::sqrt(e.excess / static_cast<double>(count_));
}

double Flattening::sum(const Effect& e) const {
    return e.uneven * e.uneven + for_balance * e.balance * e.balance + for_excess * e.excess -
           for_lift * e.lift;
}

double Flattening::sum(std::span<const EqFilter> filters, bool broad) const {
    return sum(effect(filters, broad));
}

/// The octave averages' part: the slope of the level of one is the mean of its points' gains, by
/// their shares of the power.
void Flattening::add_balance(const Effect& effect, const MatrixXd& slopes, SquaresAt& to) const {
    const Judge& judge = *judge_;
    const std::size_t in_band = last() - first() + 1;
    std::vector<double> power(count_), octaves(in_band), column(in_band), moved(count_);
    for (std::size_t f = 0; f < count_; ++f) power[f] = power_[f] * effect.factor[f];
    judge.whole().smooth(power, first(), last() + 1, octaves);
    const auto level = levels_db(octaves);
    const auto weight = Eigen::Map<const VectorXd>(&weight_[first()], static_cast<Index>(in_band));
    VectorXd rest(in_band);
    for (std::size_t i = 0; i < in_band; ++i)
        rest(static_cast<Index>(i)) = level[i] - judge.target()[first() + i];
    rest.array() -= weight.dot(rest);
    MatrixXd octave_slopes(rest.size(), slopes.cols());
    for (Index p = 0; p < slopes.cols(); ++p) {
        for (std::size_t f = 0; f < count_; ++f)
            moved[f] = power[f] * slopes(static_cast<Index>(f), p);
        judge.whole().smooth(moved, first(), last() + 1, column);
        for (std::size_t i = 0; i < in_band; ++i)
            octave_slopes(static_cast<Index>(i), p) = column[i] / octaves[i];
    }
    octave_slopes.rowwise() -= (weight.transpose() * octave_slopes).eval();
    const MatrixXd weighed = weight.asDiagonal() * octave_slopes;
    to.slope += 2 * for_balance * (weighed.transpose() * rest);
    to.curvature += 2 * for_balance * symmetric_product(weighed, octave_slopes);
}

SquaresAt Flattening::near(std::span<const EqFilter> filters, bool broad) const {
    const Effect effect = this->effect(filters, broad);
    const auto count = static_cast<Index>(count_), size = static_cast<Index>(3 * filters.size());
    // 1. dg/dx: of each filter by itself.
    const Eigen::Map<const ArrayXd> x(place_.data(), count);
    MatrixXd slopes(count, size);
    for (std::size_t n = 0; n < filters.size(); ++n) {
        const FilterPower h = filter_power(filters[n]);
        const auto moved = slopes_of(filters[n]);
        const ArrayXd above = decibels / (h.n0 + x * (h.n1 + x * h.n2)),
                      below = decibels / (h.d0 + x * (h.d1 + x * h.d2));
        for (int p = 0; p < 3; ++p) {
            const FilterPower& m = moved[p];
            slopes.col(static_cast<Index>(3 * n) + p) =
                above * (m.n0 + x * (m.n1 + x * m.n2)) - below * (m.d0 + x * (m.d1 + x * m.d2));
        }
    }
    // 2. The variance in the band, and what is too much anywhere.
    const auto gain_db = gains_db(effect.factor);
    VectorXd by_gain(count), curved(count);
    for (Index f = 0; f < count; ++f) {
        const double gain = gain_db[f], w = weight_[f], much = std::max(0.0, gain - allowed_[f]);
        by_gain(f) =
            2 * w * (deviation_[f] + gain - effect.mean) + 2 * for_excess * much - for_lift * w;
        curved(f) = 2 * w + (much > 0 ? 2 * for_excess : 0);
    }
    const VectorXd mean = slopes.transpose() * Eigen::Map<const VectorXd>(weight_.data(), count);
    SquaresAt at{sum(effect), slopes.transpose() * by_gain,
                 symmetric_product(curved.asDiagonal() * slopes, slopes)};
    at.curvature.noalias() -= 2 * mean * mean.transpose();
    if (broad) add_balance(effect, slopes, at);
    return at;
}

}  // namespace boxroom
