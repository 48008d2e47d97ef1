#pragma once
#include <complex>
#include <span>
#include <vector>

#include "base/by_frequency.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// The box of each sub: of its own volume, or `box`.
std::vector<ClosedBox> boxes_of(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const std::vector<PlacedSub>& subs);

/// What subs put into the room at some frequencies.
struct Sources {
    /// [m3/s] (F,Q): of the box in free air at 2.83 V, times the dial; with the room's pressure on
    /// the cones where that is counted.
    ByFrequency<std::complex<double>> velocity;
    ByFrequency<std::complex<double>> free;  ///< the same without that pressure
    ByFrequency<double> cone_load_db;        ///< what it does; empty where it is not counted
};

/// `cones`: what cone_impedance() gives at these frequencies, or empty. Every picture, curve and
/// number of placed subs starts from this.
Sources sources_of(const Scenario& scenario, const Driver& driver,
                   const std::vector<ClosedBox>& boxes, const std::vector<PlacedSub>& subs,
                   std::span<const double> frequency,
                   const ByFrequency<std::complex<double>>& cones);

}  // namespace boxroom
