#pragma once
#include <functional>

#include "results/survey_findings.hpp"
#include "results/survey_table.hpp"

namespace boxroom {

/// 10, 50 and 90 % of those that are known, between the two nearest (Hyndman & Fan, American
/// Statistician 50, 1996, definition 7).
Quantiles quantiles_of(std::vector<double> values);
/// With Wilson's interval for a share (Journal of the American Statistical Association 22, 1927),
/// z = 1.96. All 0 of no rooms. `held` may be a sum of parts of rooms.
Share share_of(double held, long long rooms);

/// What the rooms of a table say. Of rooms in which no box fits only that is counted.
SurveyFindings findings_of(const SurveyTable& table);

/// The finding in one sentence, as far as this many rooms carry one.
std::string findings_words(const SurveyFindings& findings);
/// What else there is to say, a sentence each.
std::vector<std::string> further_words(const SurveyFindings& findings);

}  // namespace boxroom
