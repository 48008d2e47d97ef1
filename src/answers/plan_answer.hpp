#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "answers/inquiry.hpp"
#include "report/report.hpp"
#include "tuning/deciding.hpp"
#include "tuning/driver_choice.hpp"

namespace boxroom {

/// All that `plan` finds, before a file is written.
struct Planned {
    DriverTable drivers;  ///< empty where there is nothing to choose
    Decided decided;
    PlanWords words;
    std::optional<Crossing> crossing;  ///< where something is crossed over
    std::vector<RingingNote> notes;
    DecayPicture decay;
    std::vector<BesidePrediction> beside;  ///< what the file has of measurements
    std::string file;                      ///< planned.toml

    const Plan& plan() const { return decided.plan; }
    const Decision& decision() const { return decided.decision; }
};

/// Throws Error where the search would need more memory than was wished for.
void require_memory_for_plan(const Inquiry& inquiry);

/// Decides driver, box, spots and settings, and finds what there is to say of them. Leaves the
/// inquiry with the driver that was chosen and the room as it is on the day that counts. `found` is
/// told the plan as soon as its floor maps are known, so that they can be drawn meanwhile.
Planned find_plan(Inquiry& inquiry, const std::function<void(const Plan&)>& found = {});

/// What the report shows; refers to both. `engine` and `build_section` as in
/// ReportInput.
ReportInput report_input(const Inquiry& inquiry, const Planned& planned,
                         const std::string& build_section, std::string_view engine);

/// The text and the document of `plan`, but for recordings. `where` says, after the sentences, what
/// lies where.
Answer plan_answer(const Inquiry& inquiry, const Planned& planned, const std::string& where);

}  // namespace boxroom
