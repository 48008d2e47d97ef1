#pragma once
#include <string>
#include <vector>

#include "measured/beside_prediction.hpp"
#include "report/curve_chart.hpp"

namespace boxroom {

/// A chart of one recording: what was measured, moved by `offset_db`, where it can be trusted.
/// Whoever asks adds what was predicted.
CurveChart measured_chart(const HeardCurve& heard, double offset_db, std::size_t number);

/// The same beside what was predicted.
CurveChart beside_chart(const BesidePrediction& one, std::size_t number);

/// By how much recordings and predictions differ, in two sentences; empty without recordings.
std::string recordings_words(const std::vector<BesidePrediction>& all, const Band& band);

/// Those words and a chart a recording.
std::string recordings_section(const std::vector<BesidePrediction>& all, const Band& band);

}  // namespace boxroom
