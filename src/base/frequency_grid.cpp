#include "base/frequency_grid.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

/// Edges, in ln f, of the cell each point stands for.
std::vector<double> cell_edges(std::span<const double> frequency) {
    const std::size_t count = frequency.size();
    if (count == 1) return {std::log(frequency[0]) - 0.5, std::log(frequency[0]) + 0.5};
    std::vector<double> edge(count + 1);
    for (std::size_t i = 1; i < count; ++i)
        edge[i] = 0.5 * (std::log(frequency[i - 1]) + std::log(frequency[i]));
    edge[0] = 2 * std::log(frequency[0]) - edge[1];
    edge[count] = 2 * std::log(frequency[count - 1]) - edge[count - 1];
    return edge;
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
    std::vector<double> weight(frequency.size(), 0.0);
    std::vector<double> inside;
    std::size_t first = frequency.size();
    for (std::size_t i = 0; i < frequency.size(); ++i) {
        if (!band.contains(frequency[i])) continue;
        first = std::min(first, i);
        inside.push_back(frequency[i]);
    }
    if (inside.empty())
        throw Error("[target] band", "no analysed frequency lies in the target band",
                    "widen [target] band or add frequencies inside it to [analysis]");
    const std::vector<double> edge = cell_edges(inside);
    for (std::size_t i = 0; i < inside.size(); ++i)
        weight[first + i] = (edge[i + 1] - edge[i]) / (edge.back() - edge.front());
    return weight;
}

OctaveSmoother::OctaveSmoother(std::span<const double> frequency, double octaves) {
    if (!(octaves > 0))
        throw Error("smoothing", "the width must be above zero octaves", "take 1/12, 1/3 or 1");
    if (frequency.empty()) return;
    edge_ = cell_edges(frequency);
    const double half = 0.5 * octaves * std::log(2.0);
    const int count = static_cast<int>(frequency.size());
    for (int i = 0; i < count; ++i) {
        const double centre = std::log(frequency[i]);
        const double low = std::max(centre - half, edge_.front());
        const double high = std::min(centre + half, edge_.back());
        Window w{};
        w.first =
            static_cast<int>(std::upper_bound(edge_.begin(), edge_.end(), low) - edge_.begin()) - 1;
        w.last =
            static_cast<int>(std::lower_bound(edge_.begin(), edge_.end(), high) - edge_.begin()) -
            1;
        w.first = std::clamp(w.first, 0, count - 1);
        w.last = std::clamp(w.last, w.first, count - 1);
        w.first_share = std::min(edge_[w.first + 1], high) - low;
        w.last_share = w.last > w.first ? high - edge_[w.last] : 0;
        w.width = high - low;
        window_.push_back(w);
    }
}

void OctaveSmoother::operator()(std::span<const double> power, std::span<double> out) const {
    for (std::size_t i = 0; i < window_.size(); ++i) {
        const Window& w = window_[i];
        double sum = power[w.first] * w.first_share + power[w.last] * w.last_share;
        for (int n = w.first + 1; n < w.last; ++n) sum += power[n] * (edge_[n + 1] - edge_[n]);
        out[i] = sum / w.width;
    }
}

}  // namespace boxroom
