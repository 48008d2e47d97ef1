#pragma once
#include <vector>

#include "answers/inquiry.hpp"
#include "measured/beside_prediction.hpp"
#include "measured/measured_spots.hpp"

namespace boxroom {

/// Each recording beside what the model says of it, with the boxes in this one where the file has
/// them.
std::vector<BesidePrediction> beside_predictions(const Inquiry& inquiry, const ClosedBox& box,
                                                 const std::vector<HeardCurve>& heard);

/// `recordings` and `measured_spots` of the document and a table for people; nothing without
/// recordings.
void add_recordings(Answer& answer, const Inquiry& inquiry,
                    const std::vector<BesidePrediction>& beside);

/// `measured_spots` alone and their table; nothing where there are none.
void add_measured_spots(Answer& answer, const std::vector<MeasuredSpot>& spots, Units units);

}  // namespace boxroom
