#include "placement/judged_band.hpp"

#include <algorithm>

namespace boxroom {

JudgedBand::JudgedBand(const Judge& judge) {
    constexpr double decibel = 3.01029995663981195;  // 10 log10(2)
    const int top = static_cast<int>(judge.frequency().size()) - 1;
    low = judge.first();
    int high = judge.last();
    for (int f = judge.first(); f <= judge.last(); ++f) {
        low = std::min(low, judge.whole().window(f).low);
        high = std::min(std::max(high, judge.whole().window(f).high + 1), top);
    }
    frequencies = high - low + 1;
    first = judge.first() - low, last = judge.last() - low;
    for (int f = low; f <= high; ++f) cell.push_back(static_cast<float>(judge.whole().cell(f)));
    const auto window = [&](const OctaveSmoother& smoother, int f) {
        const auto& w = smoother.window(f);
        const auto share = [&](double part) { return static_cast<float>(part / w.width); };
        return SmoothingWindow{w.low - low,
                               std::min(w.low + 1, top) - low,
                               w.high - low,
                               std::min(w.high + 1, top) - low,
                               share(w.low_here),
                               share(w.low_next),
                               share(w.high_here),
                               share(w.high_next),
                               share(1)};
    };
    for (int f = judge.first(); f <= judge.last(); ++f) {
        weight.push_back(static_cast<float>(judge.band_weight()[f]));
        target.push_back(static_cast<float>(judge.target()[f] / decibel));
        twelfth.push_back(window(judge.twelfth(), f));
        whole.push_back(window(judge.whole(), f));
    }
}

}  // namespace boxroom
