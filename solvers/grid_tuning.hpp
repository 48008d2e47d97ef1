#pragma once
#include <vector>

#include "solvers/grid_run.hpp"

namespace boxroom {

/// The walls with masses and springs such that the difference equations have the true impedance at
/// each branch's own resonance: they see the frequency W = 2/T tan(w'T/2) where w is meant, so that
/// M w/W and K W/w are put for M and K. They stay positive, hence the walls passive.
std::vector<GridSurface> tuned_walls(const GridShape& shape, Stencil stencil, const Air& air,
                                     double time_step, double highest);

/// The contents such that their difference equation (GridContents) has the true s: at the
/// band-pass's own frequency, where it sees W = 2/T sin(w'T/2) for w in d_tt and sin(w'T)/T in d_t;
/// for a constant area, where it sees 2/T tan(w'T/2), at half the highest frequency.
Contents tuned_contents(const GridShape& shape, Stencil stencil, const Air& air, double time_step,
                        double highest);

}  // namespace boxroom
