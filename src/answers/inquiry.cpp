#include "answers/inquiry.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/time_left.hpp"
#include "placement/decay_words.hpp"
#include "placement/floor_need.hpp"
#include "solvers/mesh_options.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {

Inquiry::Inquiry(Wishes w, Scenario read) : wishes(std::move(w)), scenario(std::move(read)) {
    require_memory_for_listening(scenario);
    driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    warnings = scenario.warnings;
    for (const std::string& words :
         decay_words(plausible_decay(scenario.acoustics.room, scenario.acoustics.air)))
        warnings.push_back(words);
}

void Inquiry::choose_solver(RoomStore store) {
    const auto& frequency = scenario.acoustics.frequency;
    const double highest = frequency.empty() ? 0 : frequency.back();
    const bool elements = highest <= highest_by_elements;
    if (wishes.solver == "grid" ||
        (wishes.solver.empty() && !elements && !scenario.acoustics.room.is_rectangle()))
        scenario.acoustics.solver.solver = RoomSolver::grid;
    scenario.acoustics.solver.solved =
        std::make_shared<SolvedRooms>(std::move(store), places_of(scenario.seats), highest);
    scenario.acoustics.solver.solved->tell([this, begin = 0.0](double share) mutable {
        if (share == 0) begin = seconds_now();
        say("solving the room by elements", 0.1 + 0.4 * share, seconds_left(begin, share));
    });
    scenario.acoustics.solver.grid.progress = [this](double share, double left) {
        say("solving the room on a grid", 0.1 + 0.5 * share, left);
    };
    scenario.acoustics.solver.on_grid = [this](const GridReport& report) { note_grid(report); };
}

void Inquiry::note_grid(const GridReport& report) {
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
}

void Inquiry::note_elements() {
    const ReducedReport report = scenario.acoustics.solver.solved->report();
    if (report.unknowns == 0) return;
    warnings.push_back(fmt::format(
        "the room is no {}rectangle: it was solved by elements along its walls, of {} unknowns, "
        "and "
        "a basis of {}; its last two solutions, where it was least sure, moved levels by up to "
        "{:.2f} dB, and what is left is less",
        scenario.acoustics.room.has_rectangle_floor() ? "closed " : "", report.unknowns,
        report.functions, report.change_db));
    constexpr double steep = 0.5;  // [m]: nearer, a source's field is steeper than the elements
    for (const Seat& seat : scenario.seats)
        for (const PlacedSub& sub : scenario.placed.subs)
            if (std::hypot(seat.at.x - sub.at.x, seat.at.y - sub.at.y, seat.at.z - sub.at.z) <
                steep)
                warnings.push_back("the seat \"" + seat.name + "\" is within 0.5 m of \"" +
                                   sub.name + "\": its level may be 3 dB off there");
}

void Inquiry::say(const std::string& phase, double share, double seconds_left) const {
    say(seconds_left < 0 ? phase : fmt::format("{}, {:.0f} s left", phase, seconds_left), share);
}

void Inquiry::close(Answer& answer) {
    note_elements();
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    for (const auto& [phase, seconds] : timings) answer.json["timing_s"][phase] = seconds;
    answer.json["warnings"] = warnings;
}

std::string solver_name(const Scenario& scenario) {
    return scenario.acoustics.solver.solver == RoomSolver::grid ? "grid" : "modal";
}

}  // namespace boxroom
