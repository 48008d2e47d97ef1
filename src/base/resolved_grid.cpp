#include "base/resolved_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boxroom {
namespace {

/// In ln f: where, and half the width.
struct Peak {
    double at, width;
};

/// The largest step at x.
double step_at(double x, std::span<const Peak> peaks, const Fineness& fine) {
    double step = std::numbers::ln2 / fine.per_octave;
    for (const Peak& p : peaks)
        step = std::min(step,
                        std::max(fine.of_width * p.width, fine.of_distance * std::abs(x - p.at)));
    return step;
}

/// Points between a and b, so that each step holds as many of the largest steps there: the running
/// integral of 1/step, divided evenly.
void refine(double a, double b, std::span<const Peak> peaks, const Fineness& fine,
            std::vector<double>& out) {
    std::vector<Peak> near;  // others allow a whole step everywhere in here
    const double reach = std::numbers::ln2 / fine.per_octave / fine.of_distance;
    for (const Peak& p : peaks)
        if (p.at > a - reach && p.at < b + reach) near.push_back(p);
    if (near.empty()) return;
    const double h = (b - a) / fine.parts;
    std::vector<double> running{0};
    for (int i = 0; i < fine.parts; ++i)
        running.push_back(running.back() + h / step_at(a + (i + 0.5) * h, near, fine));
    const int steps = static_cast<int>(std::ceil(running.back() - 0.2));
    for (int n = 1, i = 0; n < steps; ++n) {
        const double wanted = running.back() * n / steps;
        while (running[i + 1] < wanted) ++i;
        out.push_back(a + (i + (wanted - running[i]) / (running[i + 1] - running[i])) * h);
    }
}

}  // namespace

std::vector<double> resolved_grid(const Band& analysed, const Band& judged,
                                  std::span<const Resonance> resonances, const Fineness& fineness) {
    // 1. The even points and the ends of the judged band; of two that are one but for rounding,
    // one.
    std::vector<double> even = logarithmic_grid(analysed, fineness.per_octave);
    for (const double end : {judged.low, judged.high})
        if (analysed.contains(end) &&
            std::ranges::none_of(even, [&](double f) { return std::abs(f / end - 1) < 1e-6; }))
            even.push_back(end);
    std::ranges::sort(even);

    // 2. More between them where peaks are narrower than the steps.
    std::vector<Peak> peaks;
    for (const Resonance& r : resonances) peaks.push_back({std::log(r.frequency), 0.5 / r.q});
    const double low = judged.low / std::numbers::sqrt2, high = judged.high * std::numbers::sqrt2;
    Fineness beside = fineness;
    beside.of_width *= fineness.beside_band, beside.of_distance *= fineness.beside_band;
    std::vector<double> out;
    for (std::size_t i = 0; i < even.size(); ++i) {
        out.push_back(even[i]);
        if (i + 1 == even.size() || even[i + 1] < low || even[i] > high) continue;
        std::vector<double> between;
        const bool in_band = judged.contains(even[i]) && judged.contains(even[i + 1]);
        refine(std::log(even[i]), std::log(even[i + 1]), peaks, in_band ? fineness : beside,
               between);
        for (const double x : between) out.push_back(std::exp(x));
    }
    return out;
}

}  // namespace boxroom
