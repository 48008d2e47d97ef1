#pragma once
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "results/sets.hpp"
#include "tuning/least_within.hpp"

namespace boxroom {

/// What the shared equaliser may do.
struct EqLimits {
    int filters = 5;
    double most_boost = 4;  ///< [dB], of a filter and of their sum
    double most_cut = 15;   ///< [dB]
    double widest_q = 0.5;
    double sharpest_boost = 1.4;  ///< Q; a narrow boost would fill a null
    double sharpest_cut = 8;      ///< Q
    double null_depth = 6;        ///< [dB] below the octave average: a null, never boosted
};

/// A response that filters are to flatten, and what they leave of it.
///
/// With d the deviation of the 1/12-octave curve from the target less its mean over the band, nulls
/// no deeper than where they begin, g the filters' gain [dB], w the band's weights, b the octave
/// averages' deviation, and a what the filters may add together (nothing at a null; beside the band
/// less and less over half an octave, for boost there spends travel on what nobody asked for),
///   sum of squares = var_w(d + g) + 2 var_w(b) + 2 sum max(g - a, 0)^2 - 0.1 sum w g,
/// the last so that of equals the one counts that takes less away.
class Flattening {
  public:
    /// `power`: the seat average at the judge's frequencies. Keeps a reference to the judge.
    Flattening(const Judge& judge, std::span<const double> power, const EqLimits& limits);
    /// What is left with these filters in place.
    Flattening after(std::span<const EqFilter> filters) const;

    const Judge& judge() const { return *judge_; }
    std::size_t first() const { return static_cast<std::size_t>(judge_->first()); }
    std::size_t last() const { return static_cast<std::size_t>(judge_->last()); }
    double frequency(std::size_t f) const { return judge_->frequency()[f]; }
    double deviation(std::size_t f) const { return deviation_[f]; }  ///< [dB]
    double allowed(std::size_t f) const { return allowed_[f]; }      ///< [dB]; 0 at a null

    /// What is left of unevenness and balance [dB], with 10 times the RMS of what breaks the rules.
    double left(std::span<const EqFilter> filters) const;
    /// The sum of squares; `broad`: with the balance, whose octaves draw in what lies beside the
    /// band.
    double sum(std::span<const EqFilter> filters, bool broad) const;
    /// The same over each filter's ln f, gain and ln Q (3 a filter).
    SquaresAt near(std::span<const EqFilter> filters, bool broad) const;

  private:
    /// Of one set of filters: |H|^2 by analysed frequency, and the sums.
    struct Effect {
        std::vector<double> factor;
        double mean = 0, uneven = 0, balance = 0, excess = 0, lift = 0;
    };
    Effect effect(std::span<const EqFilter> filters, bool broad) const;
    double sum(const Effect& effect) const;
    void add_balance(const Effect& effect, const Eigen::MatrixXd& slopes, SquaresAt& to) const;

    const Judge* judge_;
    std::size_t count_;  ///< of analysed frequencies; what follows is longer (settings_vectors)
    std::vector<double> place_, deviation_, weight_, allowed_;
    std::vector<double> power_;
};

}  // namespace boxroom
