#include "placement/box_kernel.hpp"

#include <algorithm>
#include <stdexcept>

namespace boxroom {

BoxKernel::BoxKernel(const Judge& judge, std::span<const DrivenBox> boxes)
    : band_(judge),
      boxes_(boxes.size()),
      rows_(boxes.empty() ? 0 : boxes.front().product_weights.size()) {
    const std::size_t blocks = (boxes_ + lane_count - 1) / lane_count,
                      frequencies = static_cast<std::size_t>(band_.frequencies);
    scale_.assign(blocks * frequencies * lane_count, 1.0f);
    weight_.assign(blocks * rows_ * lane_count, 0.0f);
    for (std::size_t b = 0; b < boxes_; ++b) {
        const DrivenBox& box = boxes[b];
        if (box.power.size() != judge.frequency().size() || box.product_weights.size() != rows_)
            throw std::length_error("boxes of unlike numbers of frequencies or of sizes");
        // The balance does not ask how loud: scaled, so that single precision has room.
        const double loudest = *std::ranges::max_element(box.power);
        const std::size_t block = b / lane_count, lane = b % lane_count;
        for (std::size_t f = 0; f < frequencies; ++f)
            scale_[(block * frequencies + f) * lane_count + lane] =
                static_cast<float>(box.power[band_.low + f] / loudest);
        for (std::size_t row = 0; row < rows_; ++row)
            weight_[(block * rows_ + row) * lane_count + lane] = box.product_weights[row];
    }
}

void BoxKernel::balances(const SpotMean& mean, Scratch& scratch, std::span<double> out,
                         const SetVectors& vectors) const {
    const std::size_t frequencies = static_cast<std::size_t>(band_.frequencies);
    scratch.resize(band_.scratch());
    for (std::size_t block = 0; block * lane_count < boxes_; ++block) {
        float balance[lane_count];
        vectors.balances(
            {band_.frequencies, band_.count(), static_cast<int>(rows_),
             &weight_[block * rows_ * lane_count], &scale_[block * frequencies * lane_count],
             band_.cell.data(), band_.weight.data(), band_.target.data(), band_.whole.data(),
             mean.products.data() + band_.low, static_cast<int>(mean.stride)},
            scratch.data(), balance);
        for (std::size_t i = 0; i < lane_count && block * lane_count + i < boxes_; ++i)
            out[block * lane_count + i] = balance[i];
    }
}

}  // namespace boxroom
