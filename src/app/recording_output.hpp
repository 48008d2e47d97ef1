#pragma once
#include <span>
#include <vector>

#include "answers/recordings_answer.hpp"
#include "app/session.hpp"

namespace boxroom {

/// Every [[recording]] of the session's file, read and put on these frequencies; notes become
/// warnings, the files inputs. None where the file names none.
std::vector<HeardCurve> heard_recordings(Session& session, std::span<const double> frequency);

/// add_recordings(), and measured.csv. Nothing where there are none.
void write_recordings(Answer& answer, Session& session,
                      const std::vector<BesidePrediction>& beside);

/// `measured_spots` alone and their table, before the model's own ranking; nothing without
/// recordings of a box on a seat.
void add_measured_spots(Answer& answer, Session& session);

}  // namespace boxroom
