#pragma once
#include <string>

#include "report/report.hpp"

namespace boxroom {

/// What each number of boxes buys, where they stand and what to dial in, curves before and after
/// equalisation, the trade-off, how sure it is, and the equalisers to take away. Empty where only
/// one box was asked for.
std::string subs_section(const ReportInput& in);

}  // namespace boxroom
