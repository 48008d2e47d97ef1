#pragma once
#include <vector>

#include "placement/size_nodes.hpp"
#include "placement/spots.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Transfer impedances from every spot to every seat for boxes of any size between two.
/// The room is solved at a few sizes for any number of them (SizeNodes).
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
    SizeNodes sizes_;
    std::vector<TransferImpedance<float>> field_;
};

}  // namespace boxroom
