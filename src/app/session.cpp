#include "app/session.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

#include "base/error.hpp"
#include "base/time_left.hpp"
#include "base/visible_text.hpp"
#include "files/kept_rooms.hpp"
#include "placement/decay_words.hpp"
#include "placement/floor_need.hpp"
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
    : request(r),
      inputs(input_files(r)),
      results(results_path(r), r.command, inputs),
      scenario(read_scenario(r.file)) {
    require_memory_for_listening(scenario);
    driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    warnings = scenario.warnings;
    for (const std::string& words :
         decay_words(plausible_decay(scenario.acoustics.room, scenario.acoustics.air)))
        warnings.push_back(words);
    choose_solver();
}

void Session::choose_solver() {
    // A fit changes the room at every step, and would solve and keep each by elements; and high up
    // there are too many of them.
    const auto& frequency = scenario.acoustics.frequency;
    const double highest = frequency.empty() ? 0 : frequency.back();
    const bool by_elements = request.command != "fit" && highest <= highest_by_elements;
    if (request.solver == "grid" ||
        (request.solver.empty() && !by_elements && !scenario.acoustics.room.has_rectangle_floor()))
        scenario.acoustics.solver.solver = RoomSolver::grid;
    const KeptRooms kept(KeptRooms::usual_folder());
    RoomStore store;
    if (!request.fresh) store.read = [kept](const std::string& key) { return kept.read(key); };
    store.write = [kept](const std::string& key, const std::string& bytes) {
        kept.write(key, bytes);
    };
    std::vector<Point> seats;
    for (const Seat& seat : scenario.seats) seats.push_back(seat.at);
    scenario.acoustics.solver.solved =
        std::make_shared<SolvedRooms>(std::move(store), std::move(seats), highest);
    scenario.acoustics.solver.solved->tell([this, begin = 0.0](double share) mutable {
        if (share == 0) begin = seconds_now();
        say("solving the room by elements", 0.1 + 0.4 * share, seconds_left(begin, share));
    });
    scenario.acoustics.solver.grid.progress = [this](double share, double left) {
        say("solving the room on a grid", 0.1 + 0.5 * share, left);
    };
    scenario.acoustics.solver.on_grid = [this](const GridReport& report) {
        if (!scenario.acoustics.room.is_rectangle() && !fit_told_) {
            warnings.push_back(fmt::format(
                "the grid's cells of {:.0f} mm move walls by up to {:.0f} mm and the volume by "
                "{:+.1f} %{}",
                1000 * report.spacing[0], 1000 * report.fit.outline_error,
                100 * report.fit.volume_error,
                report.fit.steepest_scale < 1
                    ? "; slanted walls are staircases that count with their true area"
                    : ""));
            fit_told_ = true;
        }
        if (report.settled) return;
        warnings.push_back(fmt::format(
            "the room still rang after {:.0f} s on the grid: levels may yet move by {:.1f} dB",
            report.longest, report.left_db));
    };
}

Provenance Session::provenance() const {
    const bool grid = scenario.acoustics.solver.solver == RoomSolver::grid;
    return {BOXROOM_VERSION, grid ? "grid" : "modal", scenario.source_text};
}

void say_note(const std::string& text) {
    std::fprintf(stderr, "note: %s\n", visible_text(text).c_str());
}

/// What is shown of the elements, where they solved the room.
void Session::say_estimate() {
    const ReducedReport report = scenario.acoustics.solver.solved->report();
    if (report.unknowns == 0) return;
    warnings.push_back(fmt::format(
        "the room is no rectangle: it was solved by elements along its walls, of {} unknowns, and "
        "a basis of {}, whose last part moved levels by up to {:.2f} dB",
        report.unknowns, report.functions, report.change_db));
    constexpr double steep = 0.5;  // [m]: nearer, a source's field is steeper than the elements
    for (const Seat& seat : scenario.seats)
        for (const PlacedSub& sub : scenario.placed.subs)
            if (std::hypot(seat.at.x - sub.at.x, seat.at.y - sub.at.y, seat.at.z - sub.at.z) <
                steep)
                warnings.push_back("the seat \"" + seat.name + "\" is within 0.5 m of \"" +
                                   sub.name + "\": its level may be 3 dB off there");
}

void Session::finish(Answer& answer) {
    say("", 1);
    say_estimate();
    const double start = seconds_now();
    results.commit();
    if (timings.contains("write")) timings["write"] += seconds_now() - start;
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    for (const auto& [phase, seconds] : timings) answer.json["timing_s"][phase] = seconds;
    answer.json["warnings"] = warnings;
    if (request.quiet) return;
    for (const std::string& warning : warnings) say_note(warning);
}

void Session::say(const std::string& phase, double share, double seconds_left) const {
    say(seconds_left < 0 ? phase : fmt::format("{}, {:.0f} s left", phase, seconds_left), share);
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
