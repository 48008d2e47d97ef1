#pragma once
#include <cstddef>
#include <stdexcept>
#include <string>
#include <vector>

namespace boxroom {

/// One column of a survey: a number for every room.
struct SurveyColumn {
    std::string name, units, description;
    std::vector<double> value;  ///< NaN where it is not known
};

/// Rooms, a row each, by rising number; the first column, "room", is that number.
struct SurveyTable {
    std::vector<SurveyColumn> columns;
    std::vector<std::string> houses, drivers, contents;  ///< what the columns of these names count
    std::string input_text;                              ///< the file of distributions
    std::string version;                                 ///< of the program that made it
    long long rooms = 0;  ///< how many there are to be in all; the table may hold fewer
    int part = 1, parts = 1;

    std::size_t rows() const { return columns.empty() ? 0 : columns.front().value.size(); }
    /// Throws std::out_of_range for a name that is none.
    const std::vector<double>& operator[](const std::string& name) const {
        for (const SurveyColumn& column : columns)
            if (column.name == name) return column.value;
        throw std::out_of_range("a survey has no column " + name);
    }
};

/// Whether room n is in this part: every `parts`-th from `part` - 1 on.
inline bool in_part(long long number, int part, int parts) {
    return number % parts == part - 1;
}
/// How many rooms a part has.
inline long long rooms_of_part(long long rooms, int part, int parts) {
    return rooms / parts + (rooms % parts >= part ? 1 : 0);
}

}  // namespace boxroom
