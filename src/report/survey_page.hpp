#pragma once
#include <string>
#include <vector>

#include "results/survey_findings.hpp"

namespace boxroom {

/// What a survey's page says of the survey beside its findings.
struct SurveyAbout {
    std::string title, sentence, version, input_text;
    std::vector<std::string> further;  ///< sentences
    unsigned long long seed = 0;
    long long asked = 0;  ///< rooms there are to be; the findings may rest on fewer
};

/// One self-contained HTML page: the findings, each with its spread, its number of rooms and the
/// rule that is quoted beside it, and the distributions they hold for.
std::string survey_page(const SurveyFindings& findings, const SurveyAbout& about);
/// How the Qtc by the rule is spread, as an SVG of its own; empty where there are no rooms.
std::string survey_picture(const SurveyFindings& findings);

}  // namespace boxroom
