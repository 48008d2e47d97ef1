// Judging sets of spots at the speed of the processor's vectors.
#include "placement/set_kernel.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

SetKernel::SetKernel(const Judge& judge, const TransferImpedance<float>& z,
                     std::span<const double> source_power, std::span<const int> spots)
    : band_(judge),
      spots_(static_cast<int>(spots.size())),
      seats_(static_cast<int>(judge.seats())),
      seat_weight_(judge.seat_weight().begin(), judge.seat_weight().end()) {
    keep_fields(z, spots, even_out(z, source_power, spots));
}

/// Each frequency is scaled to a mean power of one, and all of them by one factor more, so that
/// single precision is spent where it counts. Returns the mean powers.
std::vector<double> SetKernel::even_out(const TransferImpedance<float>& z,
                                        std::span<const double> source_power,
                                        std::span<const int> spots) {
    std::vector<double> mean(band_.frequencies, 0.0);
    for (int f = 0; f < band_.frequencies; ++f) {
        for (int s = 0; s < seats_; ++s)
            for (const int spot : spots) mean[f] += std::norm(z.at(band_.low + f, s, spot));
        mean[f] = std::max(mean[f] / (static_cast<double>(seats_) * std::max(spots_, 1)), 1e-30);
    }
    double offset = 0;
    for (int f = band_.first; f <= band_.last; ++f)
        offset += band_.weight[f - band_.first] * std::log(mean[f] * source_power[band_.low + f]);
    level_offset_ = level_db(std::exp(offset));
    for (int f = 0; f < band_.frequencies; ++f) {
        gain_.push_back(
            static_cast<float>(mean[f] * source_power[band_.low + f] / std::exp(offset)));
    }
    return mean;
}

/// The fields, spots across the lanes, and spot by spot. Lanes past the last stay zero.
void SetKernel::keep_fields(const TransferImpedance<float>& z, std::span<const int> spots,
                            const std::vector<double>& mean) {
    field_.assign(blocks() * rows() * lane_count, 0.0f);
    by_spot_.resize(spots_ * rows());
    for (int f = 0; f < band_.frequencies; ++f) {
        const float scale = static_cast<float>(1 / std::sqrt(mean[f]));
        for (int s = 0; s < seats_; ++s) {
            const std::complex<float>* from = z.row(band_.low + f, s);
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

SetNumbers SetKernel::numbers() const {
    return {seats_,
            band_.frequencies,
            band_.first,
            band_.count(),
            seat_weight_.data(),
            band_.weight.data(),
            band_.target.data(),
            gain_.data(),
            band_.cell.data(),
            band_.twelfth.data(),
            band_.whole.data(),
            static_cast<float>(level_offset_)};
}

void SetKernel::judge(const Base& base, int block, Scratch& scratch, SetVerdicts& out,
                      const SetVectors& vectors) const {
    scratch.resize(band_.scratch());
    vectors.judge(numbers(), base.data(), fields(block), scratch.data(), out);
}

void SetKernel::judge_roughly(const Base& base, int block, Scratch& scratch, SetVerdicts& out,
                              const SetVectors& vectors) const {
    scratch.resize(band_.scratch());
    vectors.judge_roughly(numbers(), base.data(), fields(block), scratch.data(), out);
}

}  // namespace boxroom
