#pragma once
#include <span>
#include <vector>

#include "base/by_frequency.hpp"
#include "base/frequency_grid.hpp"
#include "base/levels.hpp"
#include "placement/array_vectors.hpp"
#include "placement/scenario.hpp"
#include "results/criteria.hpp"

namespace boxroom {

/// The wanted curve at f [dB], 0 dB at the band's (geometric) middle: the slope, or straight lines
/// of decibels over ln f between the points of the curve.
double target_db(const Target& target, double frequency);

/// Judges responses on one frequency grid, against one target, for one set of seats.
class Judge {
  public:
    Judge(std::span<const double> frequency, std::span<const Seat> seats, const Target& target);

    /// spread and largest difference from the seats' squared pressures (F,S):
    /// mean over ln f in the band of the weighted population standard deviation of the level in dB.
    void judge_seats(const ByFrequency<double>& power, Criteria& out) const;
    /// unevenness (1/12 octave) and balance (1 octave): RMS deviation of the smoothed level from
    /// the target after the best constant; level: mean over ln f; reach: going down from the
    /// band's middle, the first frequency at which the octave-smoothed level less the target falls
    /// 6 dB under its mean over the band (the lowest analysed one where it never does).
    void judge_average(std::span<const double> power, Criteria& out) const;
    /// The same but for the reach: what a score is made of.
    void judge_shape(std::span<const double> power, Criteria& out) const;
    /// Weighted mean over the seats of their squared pressures (F,S). Throws std::length_error for
    /// another number of either.
    std::vector<double> seat_average(const ByFrequency<double>& power) const;
    /// balance alone, for the box by itself.
    double balance(std::span<const double> power) const;
    std::size_t seats() const { return seat_weight_.size(); }
    std::span<const double> frequency() const { return frequency_; }
    /// The highest target curve that `max_power` (F), third-octave smoothed, stays above from
    /// `from` Hz to the band's end: what can be played, equalised, without filling nulls.
    struct Touch {
        double level_db = 0;  ///< of that curve at the band's (geometric) middle
        int index = 0;        ///< of the frequency where the two touch
    };
    Touch highest_target(std::span<const double> max_power, double from) const;
    /// The target curve through `offset` dB at the band's (geometric) middle.
    std::vector<double> target_curve(double offset) const;

    // The definitions above as numbers, for those who judge many at once (placement/set_kernel).
    std::span<const double> band_weight() const { return band_weight_; }  ///< (F), sums to 1
    std::span<const double> target() const { return target_; }            ///< (F) [dB]
    std::span<const double> seat_weight() const { return seat_weight_; }  ///< (S), sums to 1
    int first() const { return first_; }                                  ///< of the band, as index
    int last() const { return last_; }                                    ///< included
    const OctaveSmoother& twelfth() const { return twelfth_; }
    const OctaveSmoother& whole() const { return whole_; }

  private:
    LevelMoments moments(std::span<const double> in_band) const;
    double deviation(std::span<const double> in_band) const;  ///< of smoothed power, the band's
    double reach(std::span<const double> smoothed) const;

    std::vector<double> frequency_, band_weight_, target_, seat_weight_;
    int first_ = 0, last_ = 0;  ///< band, as indices, last included
    double mean_target_ = 0;    ///< over the band [dB]
    OctaveSmoother twelfth_, third_, whole_;
};

/// w1 spread + w2 unevenness + w3 balance + w4 (loudest level - level) + w5 ringing, the last where
/// it is known; lower is better.
double score(const Criteria& criteria, double loudest_db, const ScoreWeights& weights);

}  // namespace boxroom
