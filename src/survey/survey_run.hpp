#pragma once
#include <functional>
#include <optional>

#include "survey/survey_rows.hpp"

namespace boxroom {

/// Who hears of a run while it lasts; from one thread at a time.
struct SurveyEars {
    /// Given the table so far, sorted: after a second, then in ever longer steps up to `longest`
    /// [s], and in the end.
    std::function<void(const SurveyTable&)> save;
    double longest = 60;
    std::function<void(long long done, long long all)> tell;
};

/// Other processes that take rooms and hand in rows. Asked by one thread alone.
class RoomHelpers {
  public:
    struct Message {
        int from = 0, wanted = 0;  ///< who it is, and how many rooms it wants now
        std::vector<double> rows;  ///< that it has done, one after the other
    };
    virtual ~RoomHelpers() = default;
    virtual int count() const = 0;
    virtual std::optional<Message> next() = 0;  ///< a message that has come, if any
    /// Rooms to do; none: there are no more, and this helper will ask for none again.
    virtual void give(int to, const std::vector<long long>& rooms) = 0;
};

/// The rooms of the table's part that it has no row of yet, rising.
std::vector<long long> missing_rooms(const SurveyTable& table);

/// Fills in the rows that are missing, a room at a time on every thread of OpenMP, and on the
/// helpers', whoever is free. What is there already is kept. An exception of any room ends the run,
/// after the rows that are done were saved.
void fill_in(const Survey& survey, SurveyTable& table, const SurveyEars& ears,
             RoomHelpers* helpers = nullptr);

}  // namespace boxroom
