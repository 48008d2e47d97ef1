#include "survey/survey_run.hpp"

#ifdef _OPENMP
#include <omp.h>
#endif

#include <algorithm>
#include <atomic>
#include <chrono>
#include <mutex>
#include <thread>

#include "base/clock.hpp"
#include "base/parallel.hpp"
#include "base/thread_count.hpp"

namespace boxroom {
namespace {

/// Rooms that nobody has taken yet. Any thread may ask.
class RoomQueue {
  public:
    explicit RoomQueue(std::vector<long long> rooms) : rooms_(std::move(rooms)) {}
    std::vector<long long> take(int wanted) {
        const std::scoped_lock hold(mutex_);
        std::vector<long long> taken;
        while (static_cast<int>(taken.size()) < wanted && next_ < rooms_.size() && !closed_)
            taken.push_back(rooms_[next_++]);
        return taken;
    }
    void close() { closed_ = true; }

  private:
    std::vector<long long> rooms_;
    std::size_t next_ = 0;
    std::atomic<bool> closed_ = false;
    std::mutex mutex_;
};

/// Rows as they come, and the table they go to from time to time.
class Gathered {
  public:
    Gathered(SurveyTable& table, const SurveyEars& ears)
        : table_(table),
          ears_(ears),
          all_(rooms_of_part(table.rooms, table.part, table.parts)),
          saved_(seconds_now()) {}

    void take(SurveyRow row) {
        const std::scoped_lock hold(mutex_);
        fresh_.push_back(std::move(row));
        const std::size_t done = table_.rows() + fresh_.size();
        if (ears_.tell) ears_.tell(static_cast<long long>(done), all_);
        if (seconds_now() - saved_ < step_) return;
        step_ = std::min(2 * step_, ears_.longest);
        save();
    }
    void save() {
        if (fresh_.empty()) return;
        add_rows(table_, fresh_);
        fresh_.clear();
        if (ears_.save) ears_.save(table_);
        saved_ = seconds_now();
    }
    std::size_t columns() const { return table_.columns.size(); }

  private:
    SurveyTable& table_;
    const SurveyEars& ears_;
    long long all_;
    double saved_, step_ = 1;  // [s]
    std::vector<SurveyRow> fresh_;
    std::mutex mutex_;
};

/// Hands rooms to the helpers and takes their rows until each has gone home.
void serve(RoomHelpers& helpers, RoomQueue& queue, Gathered& gathered) {
    using namespace std::chrono_literals;
    for (int at_work = helpers.count(); at_work > 0;) {
        const auto message = helpers.next();
        if (!message) {
            std::this_thread::sleep_for(1ms);
            continue;
        }
        const auto columns = static_cast<std::ptrdiff_t>(gathered.columns());
        for (auto row = message->rows.begin(); row + columns <= message->rows.end(); row += columns)
            gathered.take(SurveyRow(row, row + columns));
        const auto rooms = queue.take(message->wanted);
        helpers.give(message->from, rooms);
        if (rooms.empty()) --at_work;
    }
}

}  // namespace

std::vector<long long> missing_rooms(const SurveyTable& table) {
    std::vector<long long> missing;
    const auto& there = table.columns.front().value;
    std::size_t next = 0;
    for (long long n = table.part - 1; n < table.rooms; n += table.parts) {
        while (next < there.size() && there[next] < static_cast<double>(n)) ++next;
        if (next == there.size() || there[next] != static_cast<double>(n)) missing.push_back(n);
    }
    return missing;
}

void fill_in(const Survey& survey, SurveyTable& table, const SurveyEars& ears,
             RoomHelpers* helpers) {
    RoomQueue queue(missing_rooms(table));
    Gathered gathered(table, ears);
    FirstFailure failure;
    const auto work = [&] {
        try {
            for (auto room = queue.take(1); !room.empty(); room = queue.take(1))
                gathered.take(survey_room(survey, room.front()));
        } catch (...) {
            queue.close();
            throw;
        }
    };
    // Helpers are served by this thread, beside as many as work.
    [[maybe_unused]] const int team = thread_count() + (helpers ? 1 : 0);
#pragma omp parallel num_threads(team)
    failure.guard([&] {
#ifdef _OPENMP
        if (helpers && omp_get_thread_num() == 0) return serve(*helpers, queue, gathered);
#endif
        work();
    });
    gathered.save();
    failure.rethrow();
}

}  // namespace boxroom
