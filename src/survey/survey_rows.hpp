#pragma once
#include <vector>

#include "results/survey_table.hpp"
#include "survey/drawn_room.hpp"
#include "survey/judged_room.hpp"

namespace boxroom {

/// A room as a row of the table.
using SurveyRow = std::vector<double>;

/// The table of a survey without rows: its columns with units and meaning.
SurveyTable empty_table(const Survey& survey);
/// What the columns hold of one room, in their order.
SurveyRow row_of(const DrawnRoom& drawn, const JudgedRoom& judged);
/// Draws the room of this number, plans it on this thread alone, and gives its row. Any thread may.
/// Throws Error with the numbers where it would need more than survey.room_memory.
SurveyRow survey_room(const Survey& survey, long long number);
/// Adds rows, in any order, keeping the table by rising number.
void add_rows(SurveyTable& table, const std::vector<SurveyRow>& rows);

}  // namespace boxroom
