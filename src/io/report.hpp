#pragma once
#include <map>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/plan.hpp"

namespace boxroom {

struct ReportInput {
    const Scenario& scenario;
    const Plan& plan;
    std::map<std::string, std::string> map_png;  ///< map name -> PNG bytes
    Units units = Units::metric;
    std::string version;
    std::vector<std::string> warnings;
    std::string build_section = {};  ///< from build_html(), or empty
};

/// One self-contained HTML page: opens offline, asks the network for nothing.
std::string html_report(const ReportInput& input);

}  // namespace boxroom
