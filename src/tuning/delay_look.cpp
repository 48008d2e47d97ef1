#include "tuning/delay_look.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/levels.hpp"
#include "placement/judged_band.hpp"

namespace boxroom {
namespace {

/// Two subs in single precision, scaled to a mean power of about one: [f][seat][re, im].
struct PairFields {
    PairFields(const JudgedBand& band, const SubPressures& p) {
        double sum = 0;
        const auto each = [&](const auto& see) {
            for (int f = 0; f < band.frequencies; ++f)
                for (int s = 0; s < p.seats; ++s)
                    for (int k = 0; k < 2; ++k) {
                        const int at = (k * p.seats + s) * p.stride + band.low + f;
                        see(of[k], p.re[at], p.im[at]);
                    }
        };
        each([&](auto&, double re, double im) { sum += re * re + im * im; });
        power = std::max(sum / (2.0 * band.frequencies * p.seats), 1e-30);
        const double scale = 1 / std::sqrt(power);
        each([&](auto& to, double re, double im) {
            to.push_back(static_cast<float>(scale * re));
            to.push_back(static_cast<float>(scale * im));
        });
        omega.assign(p.omega + band.low, p.omega + band.low + band.frequencies);
    }
    std::vector<float> of[2], omega;
    double power;  ///< by which they were divided
};

}  // namespace

std::vector<double> pair_scores(const Judge& judge, const ScoreWeights& weights,
                                const SubPressures& pressure, const PairLook& look) {
    if (pressure.subs != 2) throw std::length_error("a look at other than two subs");
    const JudgedBand band(judge);
    const PairFields pair(band, pressure);
    const std::vector<float> seat_weight(judge.seat_weight().begin(), judge.seat_weight().end()),
        no_gain(band.frequencies, 1.0f);
    std::vector<float> base(pair.of[0].size()), field(base.size() * lane_count),
        scratch(band.scratch());
    const std::size_t delays = look.delay.size();
    std::vector<double> scores(look.gain_db.size() * delays);
    for (std::size_t first = 0; first < delays; first += lane_count) {
        const std::size_t count = std::min<std::size_t>(lane_count, delays - first);
        float delay[lane_count];
        for (std::size_t i = 0; i < lane_count; ++i)
            delay[i] = static_cast<float>(look.delay[first + std::min(i, count - 1)]);
        settings_vectors().delayed(band.frequencies, pressure.seats, pair.of[1].data(),
                                   pair.omega.data(), delay, field.data());
        for (std::size_t g = 0; g < look.gain_db.size(); ++g) {
            const double gain = amplitude_of_db(look.gain_db[g]);
            for (std::size_t i = 0; i < base.size(); ++i)
                base[i] = pair.of[0][i] * static_cast<float>(look.polarity / gain);
            // The louder of the two plays at 0 dB.
            const double level = level_db(pair.power) + std::min(look.gain_db[g], 0.0);
            const SetNumbers numbers{
                pressure.seats,      band.frequencies,   band.first,
                band.count(),        seat_weight.data(), band.weight.data(),
                band.target.data(),  no_gain.data(),     band.cell.data(),
                band.twelfth.data(), band.whole.data(),  static_cast<float>(level)};
            SetVerdicts v;
            set_vectors().judge(numbers, base.data(), field.data(), scratch.data(), v);
            for (std::size_t i = 0; i < count; ++i) {
                Criteria c;
                c.spread_db = v.spread[i], c.unevenness_db = v.unevenness[i];
                c.balance_db = v.balance[i], c.level_db = v.level[i];
                scores[g * delays + first + i] = score(c, 0, weights);
            }
        }
    }
    return scores;
}

}  // namespace boxroom
