#pragma once
#include <vector>

#include "placement/scenario.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// Level over the plane at ear height (weighted mean of the seats) for the scenario's subs: one map
/// at scenario.map_frequency, one of the power mean over log-frequency in the target band.
/// By reciprocity the plane's points are the sources and the subs the receivers.
std::vector<FloorMap> listening_plane_maps(const Scenario& scenario, const Driver& driver,
                                           const ClosedBox& box);

}  // namespace boxroom
