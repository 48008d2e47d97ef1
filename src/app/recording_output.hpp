#pragma once
#include <span>
#include <vector>

#include "app/session.hpp"
#include "measured/beside_prediction.hpp"

namespace boxroom {

/// Every [[recording]] of the session's file, read and put on these frequencies; notes become
/// warnings, the files inputs. None where the file names none.
std::vector<HeardCurve> heard_recordings(Session& session, std::span<const double> frequency);

/// Each beside what the model says of it, with the boxes in this one where the file has them.
std::vector<BesidePrediction> beside_predictions(const Session& session, const ClosedBox& box,
                                                 const std::vector<HeardCurve>& heard);

/// `recordings` and `measured_spots` of the document, a table for people, and measured.csv. Nothing
/// where there are none.
void add_recordings(Answer& answer, Session& session, const std::vector<BesidePrediction>& beside);

/// `measured_spots` alone and their table, before the model's own ranking; nothing without
/// recordings of a box on a seat.
void add_measured_spots(Answer& answer, Session& session);

}  // namespace boxroom
