#pragma once
#include <array>
#include <vector>

#include "base/resolved_grid.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// The frequencies at which a room is analysed where the file names none: 48 an octave over
/// `analysed`, and as many more round the modes of a shut rectangle as their decay asks for, so
/// that no criterion moves by more than 0.05 dB when there are twice as many. Rooms whose modes are
/// not known (no rectangle) get the even points alone.
std::vector<double> analysis_grid(const Room& room, const Air& air, const Band& analysed,
                                  const Band& judged, const Fineness& fineness = {});

/// The same for many rooms that differ little from one: each mode of that one is moved and damped
/// in proportion to its first-order values (first_order_mode). Where a mode is a little off its
/// points still resolve it, since their steps change slowly.
class NearbyGrids {
  public:
    NearbyGrids(const Room& room, const Air& air, const Band& analysed, const Band& judged);
    std::vector<double> of(const Room& near) const;

  private:
    struct Known {
        std::array<int, 3> order;
        double shift, sharpness;  ///< its frequency and q beside their first-order values
    };
    Air air_;
    Band analysed_, judged_;
    std::vector<Known> modes_;
};

}  // namespace boxroom
