#pragma once
#include <vector>

#include "base/board.hpp"

namespace boxroom {

/// Lays the pieces of a cut list on equal sheets so that a saw can part them by straight cuts from
/// edge to edge (guillotine cuts): first fit in several orders, each free rectangle parted along
/// the longer or the shorter rest, the best of all tries kept: fewest sheets, then the largest
/// whole rectangle left over. It is a rule of thumb, not an optimum; `waste` says what it left:
/// 1 - (area of the pieces)/(area of the sheets). Saw cuts are waste, the insides of windows and
/// holes are not.
/// A piece may be turned unless `grain`. Between two pieces stays at least `kerf`; the sheet's own
/// edges need none.
/// Throws Error, naming the piece, where one is larger than a sheet.
CuttingPlan cutting_plan(const std::vector<Panel>& list, double sheet_length, double sheet_width,
                         double kerf, bool grain);

}  // namespace boxroom
