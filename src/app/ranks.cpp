#include "app/ranks.hpp"

#include <dlfcn.h>

#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "base/thread_count.hpp"
#include "ranks/ranks_table.hpp"

namespace boxroom {
namespace {

/// Set by the launchers that speak PMI or PMIx to the processes they start (Open MPI, MPICH).
bool started_together() {
    for (const char* name : {"OMPI_COMM_WORLD_SIZE", "PMI_RANK", "PMIX_RANK"})
        if (std::getenv(name)) return true;
    return false;
}

/// Looked for as the part that draws is (app/drawing.cpp).
const RanksTable& table() {
    static const RanksTable* const loaded = [] {
        void* library = ::dlopen("libboxroom_ranks.so", RTLD_NOW | RTLD_GLOBAL);
        void* door = library ? ::dlsym(library, "boxroom_ranks_table") : nullptr;
        const RanksTable* there =
            door ? reinterpret_cast<const RanksTable* (*)()>(door)() : nullptr;
        if (!there || there->version != std::string_view(BOXROOM_VERSION))
            throw Error("mpirun", "this boxroom was built without MPI",
                        "build it where CMake finds MPI (Debian: libopenmpi-dev), or use --part");
        return there;
    }();
    return *loaded;
}

}  // namespace

std::unique_ptr<Ranks> Ranks::joined() {
    if (!started_together()) return nullptr;
    table().start();
    return std::unique_ptr<Ranks>(new Ranks);
}

Ranks::~Ranks() {
    table().finish();
}

bool Ranks::first() const {
    return table().rank() == 0;
}

int Ranks::count() const {
    return table().size() - 1;
}

std::optional<RoomHelpers::Message> Ranks::next() {
    auto message = table().next();
    if (!message) return std::nullopt;
    return Message{message->from, message->wanted, std::move(message->rows)};
}

void Ranks::give(int to, const std::vector<long long>& rooms) {
    table().give(to, rooms);
}

void Ranks::help(const Survey& survey) {
    RankMessage message;
    message.wanted = thread_count();
    try {
        for (auto rooms = table().ask(message); !rooms.empty(); rooms = table().ask(message)) {
            std::vector<SurveyRow> rows(rooms.size());
            for_each_in_parallel(rooms.size(), 1,
                                 [&](std::size_t n) { rows[n] = survey_room(survey, rooms[n]); });
            message.rows.clear();
            for (const SurveyRow& row : rows)
                message.rows.insert(message.rows.end(), row.begin(), row.end());
        }
    } catch (const std::exception& error) {
        fail(error);
    }
}

void Ranks::fail(const std::exception& error) {
    std::fprintf(stderr, "%s\n", visible_text(error.what(), Lines::kept).c_str());
    table().abort(dynamic_cast<const Error*>(&error) ? 2 : 1);
}

}  // namespace boxroom
