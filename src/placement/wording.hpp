#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"
#include "placement/scenario.hpp"
#include "results/decision.hpp"
#include "results/plan.hpp"

namespace boxroom {

/// What a spot that gives these criteria has over the middling one; for one seat by evenness, for
/// several by their spread.
std::string spot_reason(const Criteria& there, const std::vector<RankedSpot>& spots,
                        bool several_seats);

/// What a plan says to people, each a sentence or two.
struct PlanWords {
    std::string recommendation;       ///< what to build, in one sentence
    std::vector<std::string> places;  ///< a box each: where it stands and what is dialled in
    std::string reason_spot, reason_box, how_much;
    std::string days;          ///< openings judged open and shut; empty without such
    std::string how_sure;      ///< what the model cannot know, and how many spots serve as well
    std::string reason_level;  ///< how loud, and the smallest box for it; empty where unknown
    std::string agreement;     ///< of two solvers; empty where only one was asked
    std::vector<std::string> alternatives;  ///< the two best others, and what they cost
    std::vector<std::string> cautions;
};

/// Which openings are judged open and shut, which day counts, and what both give; empty without
/// such.
std::string day_words(const DayStates& states, bool several_seats);

/// The sentences of a plan and of what was decided from it, its numbers in these units: the only
/// place where a plan is put into words, for terminal, JSON, report and results file alike.
PlanWords plan_words(const Plan& plan, const Decision& decision, const Scenario& scenario,
                     Units units);

}  // namespace boxroom
