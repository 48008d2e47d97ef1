#pragma once
#include <span>
#include <vector>

#include "placement/judged_band.hpp"
#include "placement/spot_fields.hpp"

namespace boxroom {

/// A box as the kernel sees it.
struct DrivenBox {
    std::vector<double> power;           ///< |U|^2 (F)
    std::vector<float> product_weights;  ///< SpotFields::product_weights
};

/// The balance (Judge::balance) of many boxes at one spot, sixteen boxes at a time in single
/// precision: within 0.002 dB of the judge's.
class BoxKernel {
  public:
    /// The boxes' |U|^2 and product_weights are all alike in size. Throws std::length_error where
    /// they are not.
    BoxKernel(const Judge& judge, std::span<const DrivenBox> boxes);

    using Scratch = std::vector<float>;
    /// [dB], one a box.
    void balances(const SpotMean& mean, Scratch& scratch, std::span<double> out,
                  const SetVectors& vectors = set_vectors()) const;

  private:
    JudgedBand band_;
    std::size_t boxes_, rows_;
    std::vector<float> scale_, weight_;  ///< [block][f][lane], [block][row][lane]
};

}  // namespace boxroom
