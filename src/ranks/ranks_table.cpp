#include "ranks/ranks_table.hpp"

#include <mpi.h>

#include <cstddef>
#include <optional>
#include <vector>

namespace boxroom {
namespace {

constexpr int rows_tag = 1, rooms_tag = 2;

void start() {
    int provided = 0;
    MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided);
}

int rank() {
    int number = 0;
    MPI_Comm_rank(MPI_COMM_WORLD, &number);
    return number;
}

int size() {
    int count = 1;
    MPI_Comm_size(MPI_COMM_WORLD, &count);
    return count;
}

/// A message is its rows with the number of rooms wanted behind them.
std::optional<RankMessage> next() {
    int there = 0;
    MPI_Status status;
    MPI_Iprobe(MPI_ANY_SOURCE, rows_tag, MPI_COMM_WORLD, &there, &status);
    if (!there) return std::nullopt;
    int count = 0;
    MPI_Get_count(&status, MPI_DOUBLE, &count);
    RankMessage message;
    message.from = status.MPI_SOURCE;
    message.rows.resize(static_cast<std::size_t>(count));
    MPI_Recv(message.rows.data(), count, MPI_DOUBLE, message.from, rows_tag, MPI_COMM_WORLD,
             MPI_STATUS_IGNORE);
    message.wanted = static_cast<int>(message.rows.back());
    message.rows.pop_back();
    return message;
}

void give(int to, const std::vector<long long>& rooms) {
    MPI_Send(rooms.data(), static_cast<int>(rooms.size()), MPI_LONG_LONG, to, rooms_tag,
             MPI_COMM_WORLD);
}

std::vector<long long> ask(const RankMessage& message) {
    std::vector<double> sent = message.rows;
    sent.push_back(message.wanted);
    MPI_Send(sent.data(), static_cast<int>(sent.size()), MPI_DOUBLE, 0, rows_tag, MPI_COMM_WORLD);
    std::vector<long long> rooms(static_cast<std::size_t>(message.wanted));
    MPI_Status status;
    MPI_Recv(rooms.data(), message.wanted, MPI_LONG_LONG, 0, rooms_tag, MPI_COMM_WORLD, &status);
    int count = 0;
    MPI_Get_count(&status, MPI_LONG_LONG, &count);
    rooms.resize(static_cast<std::size_t>(count));
    return rooms;
}

void finish() {
    MPI_Finalize();
}

void abort_all(int status) {
    MPI_Abort(MPI_COMM_WORLD, status);
}

}  // namespace
}  // namespace boxroom

const boxroom::RanksTable* boxroom_ranks_table() {
    using namespace boxroom;
    static constexpr RanksTable table{BOXROOM_VERSION, start,    rank, size, next, give, ask,
                                      finish,          abort_all};
    return &table;
}
