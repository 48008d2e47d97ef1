#include "measured/recording_timing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "base/levels.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

constexpr double widest = 0.2, step = 0.25e-3;  ///< [s]
constexpr double least_alike = 0.6, least_lead = 0.1;

/// The correlation as a function of the delay.
class Correlation {
  public:
    Correlation(const HeardCurve& heard, std::span<const Complex> predicted,
                std::span<const double> weight)
        : frequency_(heard.frequency) {
        double measured = 0, model = 0;
        for (std::size_t f = 0; f < predicted.size(); ++f) {
            const double w = heard.trusted[f] ? weight[f] : 0;
            const Complex m = std::polar(std::sqrt(power_of_db(heard.level_db[f])), heard.phase[f]);
            term_.push_back(w * m * std::conj(predicted[f]));
            measured += w * std::norm(m), model += w * std::norm(predicted[f]);
        }
        scale_ = measured > 0 && model > 0 ? 1 / std::sqrt(measured * model) : 0;
    }

    double at(double delay) const {
        double sum = 0;
        for (std::size_t f = 0; f < term_.size(); ++f)
            sum +=
                (term_[f] * std::polar(1.0, 2 * std::numbers::pi * frequency_[f] * delay)).real();
        return scale_ * sum;
    }

  private:
    const std::vector<double>& frequency_;
    std::vector<Complex> term_;
    double scale_ = 0;
};

/// The top of the parabola through three points a step apart, the middle one the highest.
double top(double before, double here, double after) {
    const double bend = before - 2 * here + after;
    return bend < 0 ? 0.5 * (before - after) / bend : 0;
}

}  // namespace

std::optional<RecordingTiming> recording_timing(const HeardCurve& heard,
                                                std::span<const Complex> predicted,
                                                std::span<const double> weight) {
    if (heard.phase.empty()) return {};
    if (predicted.size() != heard.frequency.size() || weight.size() != predicted.size())
        throw std::length_error("recording_timing: a value for each frequency");
    const Correlation correlation(heard, predicted, weight);
    std::optional<RecordingTiming> best[2];  // as it is, and the other way round
    const int steps = static_cast<int>(std::lround(widest / step));
    for (int n = -steps; n <= steps; ++n) {
        const double here = correlation.at(n * step);
        RecordingTiming found{n * step, here < 0, std::abs(here)};
        auto& of = best[here < 0];
        if (!of || found.alike > of->alike) of = found;
    }
    const auto alike = [](const auto& one) { return one ? one->alike : 0; };
    const bool inverted = alike(best[1]) > alike(best[0]);
    if (alike(best[inverted]) < least_alike ||
        alike(best[inverted]) < alike(best[!inverted]) + least_lead)
        return {};
    RecordingTiming found = *best[inverted];
    const double sign = inverted ? -1 : 1;
    found.delay_s +=
        heard.start_s + step * top(sign * correlation.at(found.delay_s - step), found.alike,
                                   sign * correlation.at(found.delay_s + step));
    return found;
}

}  // namespace boxroom
