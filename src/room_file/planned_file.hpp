#pragma once
#include <string>

#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// The user's own text with the decision filled in: [box] volume, a [[sub]] for each box by its
/// centre on the floor (box_at, facing, gain, delay, polarity) and [equaliser] filters. A [[sub]]
/// too many becomes a comment, and so does each [[recording]]: of other places of the boxes. What
/// `listen`, `view` and `build` make of it is the decision's own.
std::string planned_room_file(const Scenario& scenario, const Decision& decision);

/// In which units that text writes lengths and volumes.
struct PlannedUnits {
    WrittenUnit length, volume;
};
PlannedUnits planned_units(const std::string& source_text);

}  // namespace boxroom
