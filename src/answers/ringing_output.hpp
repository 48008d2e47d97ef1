#pragma once
#include "answers/inquiry.hpp"
#include "results/listening.hpp"
#include "results/ringing.hpp"

namespace boxroom {

/// The notes that hang in a room whose modes are known.
std::vector<RingingNote> notes_of(const Scenario& scenario, const Listening& heard);

/// `ringing` of the JSON: one entry a note, worst first. Adds the sentence to the text where
/// one hangs.
void add_ringing(Answer& answer, const std::vector<RingingNote>& notes);

/// The picture of a set of subs at the seat of its worst note (else the first seat), before and
/// after the equaliser that fits it best; nothing in a room without known modes.
DecayPicture picture_of_decay(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const Listening& heard, const std::vector<RingingNote>& notes);

}  // namespace boxroom
