#pragma once
#include <span>

#include "answers/inquiry.hpp"
#include "results/decision.hpp"
#include "results/driver_table.hpp"

namespace boxroom {

/// `subs`, the criteria without the equaliser, `equalised` and `alternatives` of the document.
nlohmann::ordered_json decision_json(const Decision& decision);

/// `states`, the criteria in each, and `worse_state`; nothing where a room has one state.
nlohmann::ordered_json states_json(const DayStates& states);

/// Type, frequency, gain and Q of each filter.
nlohmann::ordered_json filters_json(std::span<const EqFilter> filters);

/// Drivers against each other: `drivers` and `driver_reason` of the document, and a table; nothing
/// where there was nothing to choose.
void add_drivers(Answer& answer, const DriverTable& table, Units units);

/// `subs` of a document as of a plan, of those that the file places.
nlohmann::ordered_json standing_json(const Scenario& scenario, const ClosedBox& box);
/// "centre of the box ..., middle of the cone ..." for each placed sub of the file.
std::string standing_text(const Scenario& scenario, const ClosedBox& box, Units units);

}  // namespace boxroom
