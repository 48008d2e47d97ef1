#include "base/frequency_grid.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

std::vector<double> logarithms(std::span<const double> frequency) {
    std::vector<double> x;
    for (const double f : frequency) x.push_back(std::log(f));
    return x;
}

/// The trapezoidal rule's weights: half the way to both neighbours.
std::vector<double> cells(std::span<const double> x) {
    std::vector<double> cell(x.size(), 0.0);
    for (std::size_t i = 0; i + 1 < x.size(); ++i) {
        const double half = (x[i + 1] - x[i]) / 2;
        cell[i] += half, cell[i + 1] += half;
    }
    return cell;
}

/// The points from which `a` and `b` are not far, and what share of the way to the next.
struct Place {
    int segment;
    double share;
};

Place place(std::span<const double> x, double at) {
    const auto above = std::upper_bound(x.begin(), x.end(), at) - x.begin();
    const int segment = std::clamp(static_cast<int>(above) - 1, 0, static_cast<int>(x.size()) - 2);
    const double share = (at - x[segment]) / (x[segment + 1] - x[segment]);
    return {segment, std::clamp(share, 0.0, 1.0)};
}

/// The window from a to b. What runs straight from p0 to p1 over a step h has, from the share s of
/// the way on, the integral h ((1 - s)^2/2 p0 + (1 - s^2)/2 p1), and up to there the rest.
OctaveSmoother::Window window_between(std::span<const double> x, double a, double b) {
    const auto [low, s] = place(x, a);
    const auto [high, t] = place(x, b);
    const double first = x[low + 1] - x[low], last = x[high + 1] - x[high];
    OctaveSmoother::Window w{low, high, 0, 0, 0, 0, b - a};
    const double up_to_here = last * (t - t * t / 2), up_to_next = last * t * t / 2;
    if (low == high) {
        w.low_here = up_to_here - first * (s - s * s / 2);
        w.low_next = up_to_next - first * s * s / 2;
        return w;
    }
    w.low_here = first * (1 - s) * (1 - s) / 2;
    w.low_next = first * (1 - s * s) / 2;
    w.high_next = up_to_next;
    if (high == low + 1) {
        w.low_next += up_to_here;
    } else {
        w.low_next += (x[low + 2] - x[low + 1]) / 2;
        w.high_here = (x[high] - x[high - 1]) / 2 + up_to_here;
    }
    return w;
}

}  // namespace

std::vector<double> logarithmic_grid(const Band& band, int per_octave) {
    if (!(band.low > 0) || !(band.high >= band.low) || !std::isfinite(band.high))
        throw Error("[analysis] band", "a band runs from a frequency above 0 Hz to a higher one",
                    "write for example [\"10 Hz\", \"200 Hz\"]");
    if (per_octave < 1)
        throw Error("[analysis] per_octave", "at least one frequency an octave is needed",
                    "write for example 48");
    // A hair of tolerance, so that 20 to 160 Hz ends at 160 Hz in spite of rounding.
    const int last = static_cast<int>(
        std::floor(std::log2(band.high / band.low) * per_octave * (1 + 1e-12) + 1e-9));
    std::vector<double> frequency(last + 1);
    for (int i = 0; i <= last; ++i)
        frequency[i] = band.low * std::exp2(static_cast<double>(i) / per_octave);
    return frequency;
}

std::vector<double> log_mean_weights(std::span<const double> frequency, const Band& band) {
    const auto inside = [&](double f) { return band.contains(f); };
    const auto begin = std::find_if(frequency.begin(), frequency.end(), inside);
    const auto end = std::find_if_not(begin, frequency.end(), inside);
    if (begin == end)
        throw Error("[target] band", "no analysed frequency lies in the target band",
                    "widen [target] band or add frequencies inside it to [analysis]");
    const std::vector<double> x = logarithms({begin, end}), cell = cells(x);
    std::vector<double> weight(frequency.size(), 0.0);
    const auto first = static_cast<std::size_t>(begin - frequency.begin());
    for (std::size_t i = 0; i < x.size(); ++i)
        weight[first + i] = x.size() == 1 ? 1 : cell[i] / (x.back() - x.front());
    return weight;
}

OctaveSmoother::OctaveSmoother(std::span<const double> frequency, double octaves) {
    if (!(octaves > 0))
        throw Error("smoothing", "the width must be above zero octaves", "take 1/12, 1/3 or 1");
    const std::vector<double> x = logarithms(frequency);
    cell_ = cells(x);
    if (x.size() == 1) window_.push_back({0, 0, 1, 0, 0, 0, 1});
    const double half = 0.5 * octaves * std::log(2.0);
    for (std::size_t i = 0; x.size() > 1 && i < x.size(); ++i)
        window_.push_back(
            window_between(x, std::max(x[i] - half, x.front()), std::min(x[i] + half, x.back())));
}

void OctaveSmoother::operator()(std::span<const double> power, std::span<double> out) const {
    smooth(power, 0, power.size(), out);
}

void OctaveSmoother::running_sum(std::span<const double> power, std::size_t from, std::size_t to,
                                 std::span<double> sum) const {
    const double *cell = cell_.data(), *p = power.data();
    sum[from] = 0;
    std::size_t n = from;
    // Four at a time: each sum waits for the one before it.
    for (; n + 4 <= to; n += 4) {
        const double one = cell[n] * p[n], two = one + cell[n + 1] * p[n + 1],
                     three = cell[n + 2] * p[n + 2], four = three + cell[n + 3] * p[n + 3];
        sum[n + 1] = sum[n] + one;
        sum[n + 2] = sum[n] + two;
        sum[n + 3] = sum[n] + (two + three);
        sum[n + 4] = sum[n] + (two + four);
    }
    for (; n < to; ++n) sum[n + 1] = sum[n] + cell[n] * p[n];
}

void OctaveSmoother::smooth(std::span<const double> power, std::size_t first, std::size_t end,
                            std::span<double> out) const {
    if (end <= first) return;
    std::vector<double> sum(power.size());
    running_sum(power, static_cast<std::size_t>(window_[first].low),
                static_cast<std::size_t>(window_[end - 1].high), sum);
    smooth(power, sum, first, end, out);
}

void OctaveSmoother::smooth(std::span<const double> power, std::span<const double> sum,
                            std::size_t first, std::size_t end, std::span<double> out) const {
    if (power.size() == 1 && end > first) out[0] = power[0];
    if (power.size() < 2) return;
    for (std::size_t i = first; i < end; ++i) {
        const Window& w = window_[i];
        double here = w.low_here * power[w.low] + w.low_next * power[w.low + 1] +
                      w.high_here * power[w.high] + w.high_next * power[w.high + 1];
        if (w.high > w.low + 2) here += sum[w.high] - sum[w.low + 2];
        out[i - first] = here / w.width;
    }
}

}  // namespace boxroom
