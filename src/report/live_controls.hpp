#pragma once
#include <string>

#include "report/report.hpp"

namespace boxroom {

/// What a live page has beside the floor to try other boxes, settings and walls: a form, hidden
/// until the script is there. Choices have the numbers of what they name, walls that of
/// room_surfaces().
std::string live_controls(const ReportInput& in);

}  // namespace boxroom
