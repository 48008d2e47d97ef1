#pragma once
#include <string>

#include "results/subs_plan.hpp"

namespace boxroom {

/// A <figure>: the sets that nothing beats, spread against unevenness and against level, a shape
/// and colour for each number of boxes, the robust choices ringed. Inline SVG, wide and narrow as
/// chart_html(). Empty for fewer than two sets.
std::string trade_chart_html(const SubsPlan& plan);

}  // namespace boxroom
