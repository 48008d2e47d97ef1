// Judging sets of spots at the speed of the processor's vectors.
#include "placement/set_kernel.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

typedef int IntLanes __attribute__((vector_size(64)));

constexpr float decibel = 3.01029996f;  // 10 log10(2): dB of a power for each unit of log2

inline Lanes fast_log2(Lanes x) {
    constexpr int half_root = 0x3f3504f3;  // the bits of sqrt(1/2)
    const IntLanes bits = reinterpret_cast<IntLanes>(x) - half_root;
    const IntLanes mantissa = (bits & 0x007fffff) + half_root;
    const Lanes t = reinterpret_cast<Lanes>(mantissa) - 1.0f;
    const Lanes p = 1.44257801f + t * (-0.720241803f +
                                       t * (0.486686151f + t * (-0.394575371f + t * 0.252660276f)));
    return __builtin_convertvector(bits >> 23, Lanes) + t * p;
}

/// Square root, zero for what is below it: 1/sqrt(x) guessed from the bits and mended three times
/// by Newton's method (error below 1e-6), since compilers make single steps of std::sqrt here.
inline Lanes root(Lanes x) {
    x = reinterpret_cast<Lanes>(reinterpret_cast<IntLanes>(x) & (x > 0));
    Lanes r = reinterpret_cast<Lanes>(0x5f3759df - (reinterpret_cast<IntLanes>(x) >> 1));
    const Lanes half = 0.5f * x;
    for (int round = 0; round < 3; ++round) r = r * (1.5f - half * r * r);
    return x * r;
}

}  // namespace

Lanes log2_lanes(Lanes x) {
    return fast_log2(x);
}

SetKernel::SetKernel(const Judge& judge, const TransferImpedance<float>& z,
                     std::span<const double> source_power, std::span<const int> spots)
    : spots_(static_cast<int>(spots.size())), seats_(static_cast<int>(judge.seats())) {
    // 1. The frequencies that count: the band, and what smoothing draws in from beside it.
    const int top = static_cast<int>(judge.frequency().size()) - 1;
    int low = judge.first(), high = judge.last();
    for (int f = judge.first(); f <= judge.last(); ++f) {
        low = std::min(low, judge.whole().window(f).low);
        high = std::min(std::max(high, judge.whole().window(f).high + 1), top);
    }
    frequencies_ = high - low + 1;
    band_first_ = judge.first() - low, band_last_ = judge.last() - low;
    for (const double w : judge.seat_weight()) seat_weight_.push_back(static_cast<float>(w));
    const auto window = [&](const OctaveSmoother& smoother, int f) {
        const auto& w = smoother.window(f);
        const auto share = [&](double weight) { return static_cast<float>(weight / w.width); };
        return Window{w.low - low,
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
        band_weight_.push_back(static_cast<float>(judge.band_weight()[f]));
        target_.push_back(static_cast<float>(judge.target()[f]) / decibel);
        twelfth_.push_back(window(judge.twelfth(), f));
        whole_.push_back(window(judge.whole(), f));
    }

    // 2. Each frequency is scaled to a mean power of one, and all of them by one factor more, so
    //    that single precision is spent where it counts.
    std::vector<double> mean(frequencies_, 0.0);
    for (int f = 0; f < frequencies_; ++f) {
        for (int s = 0; s < seats_; ++s)
            for (const int spot : spots) mean[f] += std::norm(z.at(low + f, s, spot));
        mean[f] = std::max(mean[f] / (static_cast<double>(seats_) * std::max(spots_, 1)), 1e-30);
    }
    double offset = 0;
    for (int f = band_first_; f <= band_last_; ++f)
        offset += band_weight_[f - band_first_] * std::log(mean[f] * source_power[low + f]);
    level_offset_ = level_db(std::exp(offset));
    for (int f = 0; f < frequencies_; ++f) {
        gain_.push_back(static_cast<float>(mean[f] * source_power[low + f] / std::exp(offset)));
        cell_.push_back(static_cast<float>(judge.whole().cell(low + f)));
    }

    // 3. The fields, spots across the lanes. Lanes past the last spot stay zero.
    field_.assign(static_cast<std::size_t>(blocks()) * frequencies_ * seats_ * 2, Lanes{});
    for (int n = 0; n < spots_; ++n)
        for (int f = 0; f < frequencies_; ++f) {
            const double scale = 1 / std::sqrt(mean[f]);
            for (int s = 0; s < seats_; ++s) {
                const std::size_t row =
                    (static_cast<std::size_t>(n / lane_count) * frequencies_ + f) * seats_ + s;
                const auto value = z.at(low + f, s, spots[n]);
                field_[2 * row][n % lane_count] = static_cast<float>(value.real() * scale);
                field_[2 * row + 1][n % lane_count] = static_cast<float>(value.imag() * scale);
            }
        }
}

SetKernel SetKernel::only(std::span<const int> spots) const {
    SetKernel small = *this;
    small.spots_ = static_cast<int>(spots.size());
    const std::size_t rows = 2 * static_cast<std::size_t>(frequencies_) * seats_;
    small.field_.assign(small.blocks() * rows, Lanes{});
    for (int n = 0; n < small.spots_; ++n)
        for (std::size_t row = 0; row < rows; ++row)
            small.field_[n / lane_count * rows + row][n % lane_count] =
                field_[spots[n] / lane_count * rows + row][spots[n] % lane_count];
    return small;
}

void SetKernel::sum(std::span<const int> set, Base& base) const {
    const int rows = frequencies_ * seats_;
    base.assign(2 * static_cast<std::size_t>(rows), 0.0f);
    for (const int spot : set) {
        const Lanes* from = &field_[static_cast<std::size_t>(spot / lane_count) * rows * 2];
        for (int n = 0; n < 2 * rows; ++n) base[n] += from[n][spot % lane_count];
    }
}

SetKernel::Verdict SetKernel::judge(const Base& base, int block, Scratch& scratch) const {
    scratch.power.resize(frequencies_);
    scratch.prefix.resize(frequencies_ + 1);
    Verdict out{};

    // 1. The seats: their mean power everywhere, their differences in the band. Differences from
    //    the first seat, so that no large numbers cancel in the variance.
    const Lanes* field = &field_[static_cast<std::size_t>(block) * frequencies_ * seats_ * 2];
    const float* with = base.data();
    Lanes prefix{};
    for (int f = 0; f < frequencies_; ++f) {
        const bool judged = f >= band_first_ && f <= band_last_;
        Lanes average{}, first{}, mean{}, square{};
        for (int s = 0; s < seats_; ++s, field += 2, with += 2) {
            const Lanes re = field[0] + with[0], im = field[1] + with[1];
            const Lanes power = re * re + im * im;
            average += seat_weight_[s] * power;
            if (!judged) continue;
            const Lanes level = fast_log2(power);
            if (s == 0) {
                first = level;
            } else {
                const Lanes d = level - first, wd = seat_weight_[s] * d;
                mean += wd;
                square += wd * d;
            }
        }
        if (judged) out.spread += band_weight_[f - band_first_] * root(square - mean * mean);
        average *= gain_[f];
        scratch.power[f] = average;
        scratch.prefix[f] = prefix;
        prefix += average * cell_[f];
    }
    scratch.prefix[frequencies_] = prefix;

    // 2. The average: level, and its deviation from the target under both smoothings.
    Lanes twelfth_mean{}, twelfth_square{}, whole_mean{}, whole_square{};
    for (int n = 0; n <= band_last_ - band_first_; ++n) {
        const float w = band_weight_[n];
        const auto deviation = [&](const Window& window, Lanes& mean, Lanes& square) {
            const Lanes* power = scratch.power.data();
            Lanes sum = power[window.low] * window.low_here_weight +
                        power[window.low_next] * window.low_next_weight +
                        power[window.high] * window.high_here_weight +
                        power[window.high_next] * window.high_next_weight;
            if (window.high > window.low + 2)
                sum += (scratch.prefix[window.high] - scratch.prefix[window.low + 2]) *
                       window.inverse_width;
            const Lanes d = fast_log2(sum) - target_[n];
            mean += w * d;
            square += w * d * d;
        };
        deviation(twelfth_[n], twelfth_mean, twelfth_square);
        deviation(whole_[n], whole_mean, whole_square);
        out.level += w * fast_log2(scratch.power[band_first_ + n]);
    }
    out.spread *= decibel;
    out.unevenness = decibel * root(twelfth_square - twelfth_mean * twelfth_mean);
    out.balance = decibel * root(whole_square - whole_mean * whole_mean);
    out.level = decibel * out.level + static_cast<float>(level_offset_);
    return out;
}

}  // namespace boxroom
