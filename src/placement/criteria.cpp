#include "placement/criteria.hpp"

#include <algorithm>
#include <cmath>

#include "placement/array_vectors.hpp"
#include "placement/many_levels.hpp"

namespace boxroom {

namespace {

double on_curve(const std::vector<TargetPoint>& curve, double frequency) {
    if (frequency <= curve.front().frequency) return curve.front().level_db;
    for (std::size_t n = 1; n < curve.size(); ++n) {
        const TargetPoint &a = curve[n - 1], &b = curve[n];
        if (frequency > b.frequency) continue;
        const double share =
            std::log(frequency / a.frequency) / std::log(b.frequency / a.frequency);
        return a.level_db + share * (b.level_db - a.level_db);
    }
    return curve.back().level_db;
}

}  // namespace

double target_db(const Target& target, double frequency) {
    const double middle = std::sqrt(target.band.low * target.band.high);
    if (target.curve.empty()) return target.slope * std::log2(frequency / middle);
    return on_curve(target.curve, frequency) - on_curve(target.curve, middle);
}

Judge::Judge(std::span<const double> frequency, std::span<const Seat> seats, const Target& target)
    : frequency_(frequency.begin(), frequency.end()),
      band_weight_(log_mean_weights(frequency, target.band)),
      twelfth_(frequency, 1.0 / 12),
      third_(frequency, 1.0 / 3),
      whole_(frequency, 1.0) {
    double total = 0;
    for (const Seat& seat : seats) total += seat.weight;
    for (const Seat& seat : seats) seat_weight_.push_back(seat.weight / total);
    for (double f : frequency_) target_.push_back(target_db(target, f));
    while (band_weight_[first_] == 0) ++first_;
    last_ = static_cast<int>(frequency_.size()) - 1;
    while (band_weight_[last_] == 0) --last_;
    for (int f = first_; f <= last_; ++f) mean_target_ += band_weight_[f] * target_[f];
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

LevelMoments Judge::moments(std::span<const double> in_band) const {
    return array_vectors().moments(in_band.data(), &target_[first_], &band_weight_[first_],
                                   static_cast<int>(in_band.size()));
}

double Judge::deviation(std::span<const double> in_band) const {
    const auto [mean, square] = moments(in_band);
    return std::sqrt(std::max(0.0, square - mean * mean));
}

double Judge::balance(std::span<const double> power) const {
    std::vector<double> smoothed(last_ - first_ + 1);
    whole_.smooth(power, first_, last_ + 1, smoothed);
    return deviation(smoothed);
}

void Judge::judge_shape(std::span<const double> power, Criteria& out) const {
    const std::size_t count = last_ - first_ + 1;
    std::vector<double> room(power.size() + count);
    const std::span<double> sum(room.data(), power.size()), smoothed(&room[power.size()], count);
    // The octave's windows reach over those of the twelfth.
    whole_.running_sum(power, whole_.window(first_).low, whole_.window(last_).high, sum);
    twelfth_.smooth(power, sum, first_, last_ + 1, smoothed);
    out.unevenness_db = deviation(smoothed);
    whole_.smooth(power, sum, first_, last_ + 1, smoothed);
    out.balance_db = deviation(smoothed);
    out.level_db = moments(power.subspan(first_, count)).mean + mean_target_;
}

void Judge::judge_average(std::span<const double> power, Criteria& out) const {
    judge_shape(power, out);
    std::vector<double> smoothed(power.size());
    whole_(power, smoothed);
    out.reach_hz = reach(smoothed);
}

double Judge::reach(std::span<const double> smoothed) const {
    const auto level = levels_db(smoothed);
    const auto above = [&](int f) { return level[f] - target_[f]; };
    double least = -6;
    for (int f = first_; f <= last_; ++f) least += band_weight_[f] * above(f);
    const double middle = std::sqrt(frequency_[first_] * frequency_[last_]);
    int f = last_;
    while (f > first_ && frequency_[f - 1] >= middle * (1 - 1e-9)) --f;
    if (above(f) < least) return frequency_[f];
    while (f > 0 && above(f - 1) >= least) --f;
    if (f == 0) return frequency_[0];
    // Between the point that is too low and this one, on a straight line of decibels over ln f.
    const double below = above(f - 1), here = above(f);
    return frequency_[f] * std::pow(frequency_[f - 1] / frequency_[f],
                                    std::min(1.0, (here - least) / (here - below)));
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
