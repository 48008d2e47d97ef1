#pragma once
#include "placement/set_ground.hpp"
#include "placement/set_pool.hpp"

namespace boxroom {

/// Every set of spots whose boxes do not clash, to the pool, which keeps `keep`; how many
/// seat-frequency points were looked at. Where the pool's front is not wanted, sets are put aside
/// by a rough look that the pool cannot want: it holds the same, in less time.
double look_at_every_set(const SetGround& at, SetPool& pool, int keep, bool front);

}  // namespace boxroom
