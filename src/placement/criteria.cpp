#include "placement/criteria.hpp"

#include <algorithm>
#include <cmath>

#include "placement/many_levels.hpp"

namespace boxroom {

Judge::Judge(std::span<const double> frequency, std::span<const Seat> seats, const Target& target)
    : frequency_(frequency.begin(), frequency.end()),
      band_weight_(log_mean_weights(frequency, target.band)),
      twelfth_(frequency, 1.0 / 12),
      third_(frequency, 1.0 / 3),
      whole_(frequency, 1.0) {
    double total = 0;
    for (const Seat& seat : seats) total += seat.weight;
    for (const Seat& seat : seats) seat_weight_.push_back(seat.weight / total);
    const double middle = std::sqrt(target.band.low * target.band.high);
    for (double f : frequency_) target_.push_back(target.slope * std::log2(f / middle));
    while (band_weight_[first_] == 0) ++first_;
    last_ = static_cast<int>(frequency_.size()) - 1;
    while (band_weight_[last_] == 0) --last_;
}

void Judge::judge_seats(const ByFrequency<double>& power, Criteria& out) const {
    const std::size_t count = seat_weight_.size();
    power.require(frequency_.size(), count);
    out.spread_db = out.largest_difference_db = 0;
    const auto levels =
        levels_db(std::span(power.values()).subspan(first_ * count, (last_ - first_ + 1) * count));
    for (int f = first_; f <= last_; ++f) {
        const double* level = &levels[(f - first_) * count];
        double mean = 0, low = 1e9, high = -1e9;
        for (std::size_t s = 0; s < count; ++s) {
            mean += seat_weight_[s] * level[s];
            low = std::min(low, level[s]);
            high = std::max(high, level[s]);
        }
        double variance = 0;
        for (std::size_t s = 0; s < count; ++s)
            variance += seat_weight_[s] * (level[s] - mean) * (level[s] - mean);
        out.spread_db += band_weight_[f] * std::sqrt(variance);
        out.largest_difference_db = std::max(out.largest_difference_db, high - low);
    }
}

double Judge::deviation(std::span<const double> smoothed) const {
    const auto level = levels_db(smoothed.subspan(first_, last_ - first_ + 1));
    double mean = 0, square = 0;
    for (int f = first_; f <= last_; ++f) {
        const double d = level[f - first_] - target_[f];
        mean += band_weight_[f] * d;
        square += band_weight_[f] * d * d;
    }
    return std::sqrt(std::max(0.0, square - mean * mean));
}

double Judge::balance(std::span<const double> power) const {
    std::vector<double> smoothed(power.size());
    whole_(power, smoothed);
    return deviation(smoothed);
}

void Judge::judge_average(std::span<const double> power, Criteria& out) const {
    std::vector<double> smoothed(power.size());
    twelfth_(power, smoothed);
    out.unevenness_db = deviation(smoothed);
    out.balance_db = balance(power);
    out.level_db = 0;
    auto level = levels_db(power.subspan(first_, last_ - first_ + 1));
    for (int f = first_; f <= last_; ++f) out.level_db += band_weight_[f] * level[f - first_];
    third_(power, smoothed);
    level = levels_db(smoothed);
    double mean = 0;
    for (int f = first_; f <= last_; ++f) mean += band_weight_[f] * level[f];
    int f = last_ + 1;
    while (f > 0 && level[f - 1] >= mean - 6) --f;
    out.reach_hz = frequency_[std::min(f, last_)];
    if (f == 0 || f > last_) return;
    // Between the point that is too low and this one, on a straight line of decibels over ln f.
    const double below = level[f - 1], here = level[f];
    out.reach_hz *= std::pow(frequency_[f - 1] / frequency_[f],
                             std::min(1.0, (here - (mean - 6)) / (here - below)));
}

std::vector<double> Judge::seat_average(const ByFrequency<double>& power) const {
    const std::size_t count = seat_weight_.size();
    power.require(frequency_.size(), count);
    std::vector<double> average(frequency_.size(), 0.0);
    for (std::size_t f = 0; f < average.size(); ++f)
        for (std::size_t s = 0; s < count; ++s) average[f] += seat_weight_[s] * power(f, s);
    return average;
}

Judge::Touch Judge::highest_target(std::span<const double> max_power, double from) const {
    std::vector<double> smoothed(max_power.size());
    third_(max_power, smoothed);
    Touch touch{level_db(smoothed[last_]) - target_[last_], last_};
    for (int f = last_ - 1; f >= first_ && frequency_[f] >= from * (1 - 1e-9); --f)
        if (level_db(smoothed[f]) - target_[f] < touch.level_db)
            touch = {level_db(smoothed[f]) - target_[f], f};
    return touch;
}

std::vector<double> Judge::target_curve(double offset) const {
    std::vector<double> curve = target_;
    for (double& value : curve) value += offset;
    return curve;
}

double score(const Criteria& c, double loudest_db, const ScoreWeights& w) {
    return w.spread * c.spread_db + w.unevenness * c.unevenness_db + w.balance * c.balance_db +
           w.level * (loudest_db - c.level_db) +
           (std::isnan(c.ringing_s) ? 0 : w.ringing * c.ringing_s);
}

}  // namespace boxroom
