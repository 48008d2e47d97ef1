// Gain, delay and polarity of each sub.
#include "tuning/settings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>
#include <stdexcept>

#include "base/levels.hpp"
#include "tuning/lowest_nearby.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// Relative gains and delays (against the first sub) as absolute ones: loudest 0 dB, earliest 0 ms.
std::vector<Dial> absolute(std::span<const double> x, std::span<const int> polarity) {
    const std::size_t subs = polarity.size();
    std::vector<Dial> settings(subs);
    double loudest = 0, earliest = 0;
    for (std::size_t k = 1; k < subs; ++k) {
        settings[k].gain_db = x[2 * (k - 1)];
        settings[k].delay = 1e-3 * x[2 * (k - 1) + 1];
        loudest = std::max(loudest, settings[k].gain_db);
        earliest = std::min(earliest, settings[k].delay);
    }
    for (std::size_t k = 0; k < subs; ++k) {
        settings[k].gain_db -= loudest;
        settings[k].delay -= earliest;
        settings[k].polarity = polarity[k];
    }
    return settings;
}

struct Found {
    double score = 1e300;
    std::vector<Dial> settings;
};

void seek(const SettingsProblem& problem, std::span<const int> polarity, const SettingSteps& steps,
          const std::vector<double>& start, Found& best) {
    std::vector<SearchedVariable> variables;
    for (int k = 1; k < problem.subs(); ++k) {
        const double late = 1e3 * steps.longest_delay;
        variables.push_back({steps.lowest_gain, -steps.lowest_gain, 2.0, 0.2 * steps.gain});
        variables.push_back({-late, late, 1.5, 0.2 * 1e3 * steps.delay});
    }
    const auto score_of = [&](std::span<const double> x) {
        return problem.score(absolute(x, polarity));
    };
    auto settings = absolute(
        lowest_nearby(score_of, start, variables, 40 * static_cast<int>(start.size())), polarity);
    const double score = problem.score(settings);
    if (score < best.score) best = {score, std::move(settings)};
}

/// The polarities worth seeking with: the best few by their score at equal gains and a few delays.
std::vector<std::vector<int>> likely_polarities(const SettingsProblem& problem) {
    struct Option {
        double score;
        std::vector<int> polarity;
    };
    std::vector<Option> options;
    for (int bits = 0; bits < 1 << (problem.subs() - 1); ++bits) {
        std::vector<Dial> settings(problem.subs());
        std::vector<int> polarity(problem.subs(), 1);
        for (int k = 1; k < problem.subs(); ++k)
            settings[k].polarity = polarity[k] = (bits >> (k - 1)) & 1 ? -1 : 1;
        options.push_back({problem.score(settings), polarity});
    }
    std::ranges::sort(options, {}, &Option::score);
    std::vector<std::vector<int>> few;
    for (std::size_t n = 0; n < std::min<std::size_t>(options.size(), 3); ++n)
        few.push_back(options[n].polarity);
    return few;
}

/// Relative gain and delay of the second of two subs from which the search goes down into the
/// deepest valleys of a coarse look over all delays: between two subs the score has one valley for
/// every cycle of the band that they are apart, too narrow for a few starts to fall into by luck.
std::vector<std::vector<double>> starts_of_pair(const SettingsProblem& problem,
                                                std::span<const int> polarity,
                                                const SettingSteps& steps) {
    const double late = 1e3 * steps.longest_delay;
    // Steps of 0.5 ms: an eighth of a cycle of 250 Hz.
    const int each_way = std::max(1, static_cast<int>(std::ceil(late / 0.5)));
    std::vector<std::pair<double, std::vector<double>>> valleys;
    const std::array gains{-4.0, 0.0, 4.0};
    std::vector<double> delays;  // [s]
    for (int n = -each_way; n <= each_way; ++n) delays.push_back(1e-3 * late * n / each_way);
    // Single precision tells where the valleys are; how deep they are is found out below.
    const auto all = problem.look({gains, delays, polarity[1]});
    const auto last = static_cast<int>(delays.size()) - 1;
    for (std::size_t g = 0; g < gains.size(); ++g) {
        const auto scores = std::span(all).subspan(g * delays.size(), delays.size());
        for (int n = 0; n <= last; ++n)
            if ((n == 0 || scores[n] <= scores[n - 1]) && (n == last || scores[n] < scores[n + 1]))
                valleys.push_back({scores[n], {gains[g], late * (n - each_way) / each_way}});
    }
    std::ranges::sort(valleys);
    std::vector<std::vector<double>> starts;
    for (const auto& [score, at] : valleys)
        if (starts.size() < 4) starts.push_back(at);
    return starts;
}

/// Of three subs and more: all alike, and each in turn late, which is where other valleys tend to
/// lie.
std::vector<std::vector<double>> starts_of_more(int subs) {
    std::vector<std::vector<double>> starts{std::vector<double>(2 * (subs - 1), 0.0)};
    for (const double late : {5.0, -5.0, 10.0, -10.0}) {
        std::vector<double>& start = starts.emplace_back(starts.front());
        for (std::size_t k = 0; k < start.size() / 2; ++k)
            start[2 * k] = -2, start[2 * k + 1] = k % 2 == 0 ? late : -late / 2;
    }
    return starts;
}

/// On the steps, and then one step at a time wherever that helps.
void settle(const SettingsProblem& problem, const SettingSteps& steps, Found& best) {
    const auto tidy = [&](std::vector<Dial> settings) {
        double loudest = -1e9, earliest = 1e9;
        for (Dial& s : settings) {
            s.gain_db = std::round(s.gain_db / steps.gain) * steps.gain;
            s.delay = std::round(s.delay / steps.delay) * steps.delay;
            loudest = std::max(loudest, s.gain_db);
            earliest = std::min(earliest, s.delay);
        }
        for (Dial& s : settings) {
            s.gain_db = std::max(s.gain_db - loudest, steps.lowest_gain);
            s.delay = std::min(s.delay - earliest, steps.longest_delay);
        }
        return settings;
    };
    best.settings = tidy(best.settings);
    best.score = problem.score(best.settings);
    for (bool moved = true; moved;) {
        moved = false;
        for (int k = 0; k < problem.subs(); ++k)
            for (const Dial& step : {Dial{steps.gain, 0, 1},
                                     {-steps.gain, 0, 1},
                                     {0, steps.delay, 1},
                                     {0, -steps.delay, 1},
                                     {0, 0, -1}}) {
                auto settings = best.settings;
                settings[k].gain_db += step.gain_db;
                settings[k].delay += step.delay;
                settings[k].polarity *= step.polarity;
                settings = tidy(settings);
                if (settings[0].polarity < 0)  // all turned round is the same sound
                    for (Dial& s : settings) s.polarity = -s.polarity;
                const double score = problem.score(settings);
                if (score < best.score - 1e-9) best = {score, settings}, moved = true;
            }
    }
}

}  // namespace

SettingsProblem::SettingsProblem(const Judge& judge, const ScoreWeights& weights,
                                 const ByFrequency<Complex>& pressure)
    : judge_(judge),
      weights_(weights),
      subs_(static_cast<int>(pressure.columns())),
      stride_((pressure.frequencies() + 7) / 8 * 8) {
    const std::size_t seats = judge.seats(), frequencies = judge.frequency().size();
    pressure.require(frequencies, seats, pressure.columns());
    if (subs_ > most_turned) throw std::length_error("settings of more than four subs");
    re_.resize(subs_ * seats * stride_);
    im_.resize(re_.size());
    for (std::size_t f = 0; f < frequencies; ++f)
        for (std::size_t s = 0; s < seats; ++s)
            for (int k = 0; k < subs_; ++k) {
                re_[(k * seats + s) * stride_ + f] = pressure(f, s, k).real();
                im_[(k * seats + s) * stride_ + f] = pressure(f, s, k).imag();
            }
    for (const double f : judge.frequency()) omega_.push_back(2 * std::numbers::pi * f);
    omega_.resize(stride_);
    band_weight_.assign(judge.band_weight().begin(), judge.band_weight().end());
    band_weight_.resize(stride_);
}

SettingsProblem::Turns SettingsProblem::turns(std::span<const Dial> settings) {
    Turns out{};
    for (std::size_t k = 0; k < settings.size(); ++k) {
        out.gain[k] = amplitude_of_db(settings[k].gain_db) * settings[k].polarity;
        out.delay[k] = settings[k].delay;
    }
    return out;
}

SubPressures SettingsProblem::pressure() const {
    return {subs_,
            static_cast<int>(judge_.seats()),
            static_cast<int>(stride_),
            re_.data(),
            im_.data(),
            omega_.data()};
}

ByFrequency<double> SettingsProblem::power(std::span<const Dial> settings) const {
    const Turns turned = turns(settings);
    ByFrequency<double> power(judge_.frequency().size(), judge_.seats());
    settings_vectors().power(pressure(), turned.gain.data(), turned.delay.data(), 0,
                             static_cast<int>(judge_.frequency().size()) - 1, power.at(0).data());
    return power;
}

Criteria SettingsProblem::criteria(std::span<const Dial> settings) const {
    const auto at_seats = power(settings);
    Criteria c;
    judge_.judge_seats(at_seats, c);
    judge_.judge_average(judge_.seat_average(at_seats), c);
    return c;
}

double SettingsProblem::score(std::span<const Dial> settings) const {
    // Only what smoothing draws into the band counts.
    const int top = static_cast<int>(judge_.frequency().size()) - 1;
    const Turns turned = turns(settings);
    std::vector<double> average(judge_.frequency().size());
    Criteria c;
    c.spread_db =
        settings_vectors().judge(pressure(), turned.gain.data(), turned.delay.data(),
                                 judge_.whole().window(judge_.first()).low,
                                 std::min(judge_.whole().window(judge_.last()).high + 1, top),
                                 judge_.seat_weight().data(), band_weight_.data(), average.data());
    judge_.judge_shape(average, c);
    return boxroom::score(c, 0, weights_);
}

std::vector<double> SettingsProblem::look(const PairLook& at) const {
    return pair_scores(judge_, weights_, pressure(), at);
}

std::vector<Dial> best_settings(const SettingsProblem& problem, const SettingSteps& steps) {
    Found best;
    best.settings.resize(problem.subs());
    if (problem.subs() == 1) return best.settings;
    best.score = problem.score(best.settings);
    for (const auto& polarity : likely_polarities(problem))
        for (const auto& start : problem.subs() == 2 ? starts_of_pair(problem, polarity, steps)
                                                     : starts_of_more(problem.subs()))
            seek(problem, polarity, steps, start, best);
    settle(problem, steps, best);
    return best.settings;
}

}  // namespace boxroom
