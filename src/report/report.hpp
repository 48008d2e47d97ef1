#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/units.hpp"
#include "measured/beside_prediction.hpp"
#include "placement/scenario.hpp"
#include "placement/wording.hpp"
#include "results/crossing.hpp"
#include "results/plan.hpp"
#include "results/ringing.hpp"
#include "results/subs_plan.hpp"

namespace boxroom {

/// What makes the answer live where the page has its engine; empty for a still one.
struct LivePage {
    std::vector<double> numbers;       ///< of the scenario with what was decided (flat_scenario)
    std::vector<std::string> colours;  ///< of the floor map, from low to high, "#rrggbb"
    PlanWords other_words;             ///< in the units that the report is not in
    std::string file;                  ///< planned.toml
    bool on() const { return !numbers.empty(); }
};

struct ReportInput {
    const Scenario& scenario;
    const Plan& plan;
    const Decision& decision;
    PlanWords words;  ///< of the plan, in `units`
    Units units = Units::metric;
    std::string version;
    std::vector<std::string> warnings;
    std::string_view engine =
        {};  ///< of the page (page_document.hpp); without it the report stands still
    LivePage live = {};
    std::string build_section = {};       ///< from build_html(), or empty
    const SubsPlan* subs = nullptr;       ///< null where numbers of boxes were not looked at
    const Crossing* crossing = nullptr;   ///< of what is advised; null without mains and crossover
    std::vector<RingingNote> notes = {};  ///< that hang, of what is advised
    DecayPicture decay = {};              ///< unknown where the room's modes are not known
    std::vector<BesidePrediction> recordings = {};  ///< with the boxes where the file has them
};

/// One self-contained HTML page: opens offline, asks the network for nothing.
std::string html_report(const ReportInput& input);

}  // namespace boxroom
