#pragma once
#include <string>
#include <vector>

#include "placement/listening.hpp"
#include "placement/scenario.hpp"
#include "results/decision.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// The report's charts, in its order: each is a <figure>, or empty where there is nothing to draw.
/// With the average behind the decision's equaliser, where it has one.
std::string response_chart(const Plan& plan, const Decision& decision, const Target& target);
std::string spread_chart(const Plan& plan, const Target& target);
std::string loudest_chart(const Plan& plan, const Target& target);  ///< empty where unknown
std::string balance_chart(const Plan& plan);
std::string size_cost_charts(const Plan& plan);  ///< in level and watts; empty where unknown
std::string lift_chart(const Plan& plan, const Target& target);
std::string boxes_chart(const Plan& plan, const Target& target);

/// plan.boxes[index], or null where there is no such box.
const BoxOption* box_option(const Plan& plan, int index);

}  // namespace boxroom
