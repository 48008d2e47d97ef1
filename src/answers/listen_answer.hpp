#pragma once
#include <optional>
#include <string>

#include "answers/inquiry.hpp"
#include "results/crossing.hpp"
#include "results/decision.hpp"
#include "results/listening.hpp"
#include "results/solver_agreement.hpp"

namespace boxroom {

/// What the subs of a file sound like at its seats.
struct HeardFile {
    ClosedBox box;
    DayStates days;  ///< empty where the room has one state
    Listening result;
    std::optional<Crossing> crossing;  ///< where something is crossed over
    SolverAgreement agreement;         ///< known where both solvers were asked
    std::string trust;                 ///< the same in words
    std::string loaded;                ///< what the room's pressure on the cone does; or empty
};

/// Hears the file, on the worse of its days; leaves the inquiry's room as it is then.
HeardFile hear_file(Inquiry& inquiry);

/// The text and the document of `listen`, but for recordings.
Answer listen_answer(const Inquiry& inquiry, const HeardFile& heard);

}  // namespace boxroom
