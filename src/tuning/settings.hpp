#pragma once
#include <complex>
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "results/sets.hpp"

namespace boxroom {

/// Pressures that each sub alone, neutrally set, makes at the seats: what settings are sought on.
class SettingsProblem {
  public:
    /// pressure (F,S,K): of each of K subs for a neutral setting. Throws std::length_error for
    /// another number of frequencies or seats than the judge's.
    SettingsProblem(const Judge& judge, const ScoreWeights& weights,
                    const ByFrequency<std::complex<double>>& pressure);

    int subs() const { return subs_; }
    /// |sum_k g_k e^{-jw tau_k} p_k|^2 (F,S).
    ByFrequency<double> power(std::span<const Dial> settings) const;
    Criteria criteria(std::span<const Dial> settings) const;
    /// w1 spread + w2 unevenness + w3 balance - w4 level: without the parts it does not need.
    double score(std::span<const Dial> settings) const;

  private:
    ByFrequency<double> power_between(std::span<const Dial> settings, int first, int last) const;

    const Judge& judge_;
    ScoreWeights weights_;
    int subs_;
    std::size_t stride_;           ///< frequencies, padded
    std::vector<double> re_, im_;  ///< pressure [sub][seat][f]
    std::vector<double> omega_;    ///< (stride) [rad/s]
};

/// The settings that a set of subs should have, on the steps its amplifiers offer.
///
/// For each likely combination of polarities BOBYQA (Powell 2009, in NLopt) seeks gains and delays
/// relative to the first sub from several starts; the best is rounded and mended on the steps until
/// no single step helps. The loudest gain is 0 dB, the shortest delay 0 ms.
std::vector<Dial> best_settings(const SettingsProblem& problem, const SettingSteps& steps);

}  // namespace boxroom
