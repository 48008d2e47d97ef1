// Judging sets of spots at the speed of the processor's vectors.
#include "placement/set_kernel.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

static constexpr double decibel = 3.01029995663981195;  // 10 log10(2)

SetKernel::SetKernel(const Judge& judge, const TransferImpedance<float>& z,
                     std::span<const double> source_power, std::span<const int> spots)
    : spots_(static_cast<int>(spots.size())), seats_(static_cast<int>(judge.seats())) {
    const int low = keep_frequencies(judge);
    const std::vector<double> mean = even_out(judge, z, source_power, spots, low);
    keep_fields(z, spots, low, mean);
}

/// The frequencies that count: the band, and what smoothing draws in from beside it. Returns the
/// first of them.
int SetKernel::keep_frequencies(const Judge& judge) {
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
        band_weight_.push_back(static_cast<float>(judge.band_weight()[f]));
        target_.push_back(static_cast<float>(judge.target()[f] / decibel));
        twelfth_.push_back(window(judge.twelfth(), f));
        whole_.push_back(window(judge.whole(), f));
    }
    return low;
}

/// Each frequency is scaled to a mean power of one, and all of them by one factor more, so that
/// single precision is spent where it counts. Returns the mean powers.
std::vector<double> SetKernel::even_out(const Judge& judge, const TransferImpedance<float>& z,
                                        std::span<const double> source_power,
                                        std::span<const int> spots, int low) {
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
    return mean;
}

/// The fields, spots across the lanes, and spot by spot. Lanes past the last stay zero.
void SetKernel::keep_fields(const TransferImpedance<float>& z, std::span<const int> spots, int low,
                            const std::vector<double>& mean) {
    field_.assign(blocks() * rows() * lane_count, 0.0f);
    by_spot_.resize(spots_ * rows());
    for (int f = 0; f < frequencies_; ++f) {
        const float scale = static_cast<float>(1 / std::sqrt(mean[f]));
        for (int s = 0; s < seats_; ++s) {
            const std::complex<float>* from = z.row(low + f, s);
            const std::size_t row = 2 * (static_cast<std::size_t>(f) * seats_ + s);
            for (int n = 0; n < spots_; ++n) {
                const auto value = from[spots[n]] * scale;
                float* to = &field_[(n / lane_count * rows() + row) * lane_count + n % lane_count];
                to[0] = by_spot_[n * rows() + row] = value.real();
                to[lane_count] = by_spot_[n * rows() + row + 1] = value.imag();
            }
        }
    }
}

SetKernel SetKernel::only(std::span<const int> spots) const {
    SetKernel small = *this;
    small.spots_ = static_cast<int>(spots.size());
    small.field_.assign(small.blocks() * rows() * lane_count, 0.0f);
    small.by_spot_.resize(spots.size() * rows());
    for (int n = 0; n < small.spots_; ++n)
        for (std::size_t row = 0; row < rows(); ++row)
            small.field_[(n / lane_count * rows() + row) * lane_count + n % lane_count] =
                small.by_spot_[n * rows() + row] = by_spot_[spots[n] * rows() + row];
    return small;
}

void SetKernel::add(int spot, Base& base) const {
    const float* from = &by_spot_[spot * rows()];
    for (std::size_t n = 0; n < base.size(); ++n) base[n] += from[n];
}

void SetKernel::sum(std::span<const int> set, Base& base) const {
    base.assign(rows(), 0.0f);
    for (const int spot : set) add(spot, base);
}

void SetKernel::judge(const Base& base, int block, Scratch& scratch, SetVerdicts& out,
                      const SetVectors& vectors) const {
    scratch.resize(2 * static_cast<std::size_t>(frequencies_ + 1) * lane_count);
    const SetNumbers numbers{seats_,
                             frequencies_,
                             band_first_,
                             band_last_ - band_first_ + 1,
                             seat_weight_.data(),
                             band_weight_.data(),
                             target_.data(),
                             gain_.data(),
                             cell_.data(),
                             twelfth_.data(),
                             whole_.data(),
                             static_cast<float>(level_offset_)};
    vectors.judge(numbers, base.data(), &field_[block * rows() * lane_count], scratch.data(), out);
}

}  // namespace boxroom
