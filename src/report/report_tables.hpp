#pragma once
#include <string>

#include "report/report.hpp"

namespace boxroom {

/// The report's parts that are words and numbers; HTML, without a surrounding section.
std::string choice_cards(const ReportInput& input);  ///< build, half-space best, textbook
std::string spots_table(const ReportInput& input);   ///< the ten best
std::string boxes_table(const ReportInput& input);
std::string walls_table(const Scenario& scenario);  ///< with absorption at 63 and 125 Hz
std::string seats_and_driver(const ReportInput& input);
/// Two solvers seat by seat; empty where they were not compared.
std::string agreement_table(const SolverAgreement& agreement);
std::string text_list(const std::vector<std::string>& texts);  ///< empty for no texts

}  // namespace boxroom
