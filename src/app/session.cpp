#include "app/session.hpp"

#include <unistd.h>

#include <cstdio>
#include <memory>
#include <utility>

#include "base/visible_text.hpp"
#include "files/kept_later.hpp"
#include "room_file/room_file.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {

namespace {

/// A room file, or the one that a saved run carries.
Scenario read_scenario(const std::filesystem::path& path) {
    if (path.extension() == ".h5") return parse_room_file(read_input_text(path), path.string());
    return read_room_file(path);
}

}  // namespace

std::filesystem::path results_path(const Request& request) {
    if (!request.out.empty()) return request.out;
    return std::filesystem::path(request.file).stem().string() + "-results";
}

InputFiles input_files(const Request& request) {
    InputFiles files;
    files.add(request.file);
    if (request.replay) files.add(*request.replay);
    if (!request.second.empty()) files.add(request.second);
    return files;
}

Session::Session(const Request& r)
    : Inquiry(r, read_scenario(r.file)),
      request(r),
      inputs(input_files(r)),
      results(results_path(r), r.command, inputs) {
    const KeptRooms kept(KeptRooms::usual_folder());
    RoomStore store;
    if (!request.fresh) store.read = [kept](const std::string& key) { return kept.read(key); };
    store.write = [later = std::make_shared<KeptLater>(kept)](
                      const std::string& key, const Pieces& bytes) { later->write(key, bytes); };
    choose_solver(std::move(store));
}

Provenance Session::provenance() const {
    return {BOXROOM_VERSION, solver_name(scenario), scenario.source_text};
}

void say_note(const std::string& text) {
    std::fprintf(stderr, "note: %s\n", visible_text(text).c_str());
}

void Session::finish(Answer& answer) {
    say("", 1);
    const double start = seconds_now();
    results.commit();
    if (timings.contains("write")) timings["write"] += seconds_now() - start;
    close(answer);
    if (request.quiet) return;
    for (const std::string& warning : warnings) say_note(warning);
}

void Session::say(const std::string& phase, double share) const {
    say_progress(request, phase, share);
}

void say_progress(const Request& request, const std::string& phase, double share) {
    if (request.quiet || !::isatty(STDERR_FILENO)) return;
    constexpr int cells = 24;
    const int full = static_cast<int>(share * cells);
    if (phase.empty())
        std::fputs("\r\033[K", stderr);
    else
        std::fprintf(stderr, "\r\033[K[%s%s] %s", std::string(full, '=').c_str(),
                     std::string(cells - full, ' ').c_str(), phase.c_str());
    std::fflush(stderr);
}

}  // namespace boxroom
