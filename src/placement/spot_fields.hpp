#pragma once
#include <vector>

#include "placement/spots.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Transfer impedances from every spot to every seat for boxes of any size between two.
///
/// The acoustic centre moves linearly with the box's inner side s, so Z is a smooth function of s;
/// it is solved at Chebyshev nodes in s and interpolated between (four nodes: kd = 1.3 rad at 200
/// Hz for 0.35 m of travel, error below (kd/2)^4/(4! 2^3) = 1e-3 of |Z|, under 0.01 dB). So the
/// room is solved four times for any number of boxes, once where there is only one size.
class SpotFields {
  public:
    SpotFields(const Scenario& scenario, const SpotGrid& grid, double smallest_volume,
               double largest_volume);

    /// |Z|^2 for `count` spots from `first`, box of this net volume: out[(f * seats + s) * count +
    /// i].
    void squared(double net_volume, int first, int count, std::vector<float>& out) const;

    /// Z from every spot to every seat, box of this net volume.
    TransferImpedance<float> at(double net_volume) const;

  private:
    std::vector<double> weights(double net_volume) const;

    EnclosureRules rules_;
    std::vector<double> node_;  ///< inner side, cube root of inner volume [m]
    std::vector<TransferImpedance<float>> field_;
};

}  // namespace boxroom
