#pragma once
#include <optional>
#include <string>

#include "answers/inquiry.hpp"
#include "results/box_build.hpp"
#include "results/decision.hpp"

namespace boxroom {

/// The box to saw and why it is that one.
struct BoxToSaw {
    ClosedBox box;
    std::string which;  ///< a sentence
};

/// The box wished for; else the one that a plan of this file decided on, where `planned` has it;
/// else the file's own. `no_plan` says where no plan was found.
BoxToSaw box_to_saw(Inquiry& inquiry, const std::optional<Scenario>& planned,
                    const std::string& no_plan);

/// The (first) box that was decided on, as it is built. Where it cannot be built as the file says
/// that is a warning, for the plan still holds.
std::optional<BoxBuild> build_of(Inquiry& inquiry, const Decision& decision);

/// The text and the document of `build`.
Answer build_answer(const Inquiry& inquiry, const BoxToSaw& box, const BoxBuild& build);

}  // namespace boxroom
