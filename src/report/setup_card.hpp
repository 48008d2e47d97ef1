#pragma once
#include <string>

#include "report/report.hpp"

namespace boxroom {

/// One page of A4 or Letter for the day the boxes are set up, in the order one does it at the
/// amplifier: place, level, crossover, delay, polarity, filters, checks, and the caution on level.
/// A self-contained page; its numbers are the decision's.
std::string setup_card(const ReportInput& input);

}  // namespace boxroom
