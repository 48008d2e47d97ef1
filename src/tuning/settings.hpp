#pragma once
#include <array>
#include <complex>
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "results/sets.hpp"
#include "tuning/delay_look.hpp"
#include "tuning/settings_vectors.hpp"

namespace boxroom {

/// Pressures that each sub alone, neutrally set, makes at the seats: what settings are sought on.
class SettingsProblem {
  public:
    /// pressure (F,S,K): of each of K subs for a neutral setting. Throws std::length_error for
    /// another number of frequencies or seats than the judge's, or of more than four subs.
    SettingsProblem(const Judge& judge, const ScoreWeights& weights,
                    const ByFrequency<std::complex<double>>& pressure);

    int subs() const { return subs_; }
    /// |sum_k g_k e^{-jw tau_k} p_k|^2 (F,S).
    ByFrequency<double> power(std::span<const Dial> settings) const;
    Criteria criteria(std::span<const Dial> settings) const;
    /// w1 spread + w2 unevenness + w3 balance - w4 level: without the parts it does not need.
    double score(std::span<const Dial> settings) const;
    /// The scores of many settings of two subs, [gain][delay], in single precision.
    std::vector<double> look(const PairLook& at) const;

  private:
    struct Turns {
        std::array<double, most_turned> gain, delay;
    };
    static Turns turns(std::span<const Dial> settings);
    SubPressures pressure() const;

    const Judge& judge_;
    ScoreWeights weights_;
    int subs_;
    std::size_t stride_;               ///< frequencies, padded
    std::vector<double> re_, im_;      ///< pressure [sub][seat][f]
    std::vector<double> omega_;        ///< (stride) [rad/s]
    std::vector<double> band_weight_;  ///< (stride)
};

/// The settings that a set of subs should have, on the steps its amplifiers offer.
///
/// For each likely combination of polarities a search (lowest_nearby) seeks gains and delays
/// relative to the first sub from several starts; the best is rounded and mended on the steps until
/// no single step helps. The loudest gain is 0 dB, the shortest delay 0 ms.
std::vector<Dial> best_settings(const SettingsProblem& problem, const SettingSteps& steps);

}  // namespace boxroom
