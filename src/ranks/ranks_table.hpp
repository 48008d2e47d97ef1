#pragma once
#include <optional>
#include <vector>

namespace boxroom {

/// What a rank tells the first one: rows it has done, one after the other, and how many rooms it
/// wants now.
struct RankMessage {
    int from = 0;
    int wanted = 0;
    std::vector<double> rows;
};

/// The one door of libboxroom_ranks.so, which holds all that needs MPI. All calls come from the
/// thread that called `start`.
struct RanksTable {
    const char* version;
    void (*start)();
    int (*rank)();
    int (*size)();
    /// Rank 0: a message that has come, or nothing.
    std::optional<RankMessage> (*next)();
    /// Rank 0: rooms to do; none: go home.
    void (*give)(int to, const std::vector<long long>& rooms);
    /// The others: tell rank 0, and wait for rooms.
    std::vector<long long> (*ask)(const RankMessage& message);
    /// Once everybody is done.
    void (*finish)();
    /// Ends every rank at once.
    void (*abort)(int status);
};

}  // namespace boxroom

extern "C" const boxroom::RanksTable* boxroom_ranks_table();
