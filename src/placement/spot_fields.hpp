#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "base/by_frequency.hpp"
#include "placement/size_nodes.hpp"
#include "placement/spots.hpp"
#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Transfer impedances from every spot to every seat for boxes of any size between two.
/// The room is solved at a few sizes for any number of them (SizeNodes).
class SpotFields {
  public:
    /// `wanted`: 1 for each spot of the grid that is to be solved; all if it is empty.
    SpotFields(const Scenario& scenario, const SpotGrid& grid, double smallest_volume,
               double largest_volume, std::span<const std::uint8_t> wanted = {});

    int size() const { return static_cast<int>(spots_.size()); }  ///< of wanted spots
    int spot(int n) const { return spots_[n]; }                   ///< the grid's number of one
    int number(int spot) const;                                   ///< and back, of a wanted one

    /// Z from every wanted spot to every seat, box of this net volume.
    TransferImpedance<float> at(double net_volume) const&;
    /// The same of fields that are needed no more: those of one size as they are.
    TransferImpedance<float> at(double net_volume) &&;
    /// w_a w_b for nodes a <= b, w the weights with which they count for this net volume.
    std::vector<float> product_weights(double net_volume) const;

  private:
    friend class SpotBlock;
    SizeNodes sizes_;
    std::vector<int> spots_;
    TransferImpedance<float> field_;  ///< sources: [node][wanted spot]
};

/// The weighted mean over the seats of |Z|^2 from one spot, for boxes of any size: with Z = sum_a
/// w_a Z_a between the nodes it is sum_ab w_a w_b Re(Z_a conj Z_b). So a box costs one sum over
/// products of the nodes' fields, and none over fields and seats.
struct SpotMean {
    std::size_t stride;
    std::vector<float> products;  ///< [a <= b][f], twice where a < b
    /// `scale` times the mean (F) for SpotFields::product_weights.
    std::vector<double> times(std::span<const double> scale,
                              std::span<const float> product_weights) const;
};

/// A few neighbouring spots, read once for boxes of any size.
class SpotBlock {
  public:
    static constexpr int most = 32;
    /// The wanted spots first .. first + most - 1, as far as there are so many.
    SpotBlock(const SpotFields& fields, int first);
    int count() const { return count_; }
    /// |Z|^2 (F,S) from the block's spot n, box of this net volume.
    ByFrequency<double> squared(int n, double net_volume) const;
    SpotMean mean(int n, std::span<const double> seat_weight) const;

  private:
    const SpotFields& fields_;
    int count_;
    std::size_t stride_;          ///< frequencies, padded
    std::vector<float> re_, im_;  ///< [spot][node][seat][f]
};

}  // namespace boxroom
