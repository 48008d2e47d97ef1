#pragma once
#include "placement/planning.hpp"
#include "results/driver_table.hpp"

namespace boxroom {

/// Plans one box for each [[driver]] of the file and chooses among them by the rule for boxes
/// (placement/decision.hpp): what does the asked within what nobody hears, then the smallest box.
/// Empty where the file has one driver, or has chosen. Throws Error where none can be used.
DriverTable compare_drivers(const Scenario& scenario, Timings& timings);

/// The scenario with that driver in it.
void take_driver(const std::string& name, Scenario& scenario);

}  // namespace boxroom
