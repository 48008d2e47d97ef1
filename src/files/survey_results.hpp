#pragma once
#include <filesystem>
#include <string>

#include "results/survey_table.hpp"

namespace boxroom {

/// The bytes of survey.h5: a dataset a column, each a number a room with units and description; the
/// names that /house, /driver and /contents count; how many rooms there are to be, and which part
/// this is. Sealed.
std::string survey_hdf5(const SurveyTable& table);

/// A table read back, with the columns that `like` has, in their order. Throws Error for a file
/// that is damaged, none of a survey's, of another file of distributions or another version of the
/// program than `like` says, or whose rooms do not rise within its part.
SurveyTable read_survey(const std::filesystem::path& path, const SurveyTable& like);

}  // namespace boxroom
