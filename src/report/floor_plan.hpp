#pragma once
#include <string>

#include "report/report.hpp"

namespace boxroom {

/// Inline SVG of the room from above, front wall at the top, to scale. Groups .plan-box and
/// .plan-seat sit at their places by a transform; data-scale says how many units a metre is, data-x
/// and data-y where the corner at the left and front wall lies.
std::string floor_plan_svg(const ReportInput& in);

/// The same room with the boxes of a set, numbered; nothing in it moves.
std::string set_plan_svg(const ReportInput& in, const SetRanking& ranking, const RankedSet& set);

}  // namespace boxroom
