// new, check, modes: nothing that needs a sub in the room.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "answers/check_answer.hpp"
#include "answers/room_days.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "room_file/room_file.hpp"
#include "solvers/free_oscillations.hpp"
#include "solvers/plausible_decay.hpp"

namespace boxroom {

Answer run_new(const Request& request) {
    std::error_code none;
    if (std::filesystem::exists(std::filesystem::symlink_status(request.file, none)))
        throw Error(request.file, "the file exists and is never overwritten",
                    "choose another name, or move the old file away");
    bool imperial = request.units == Units::imperial;
    const std::string text =
        request.ask ? ask_for_room_file(request, imperial) : starter_room_file(request.units);
    write_output(request.file, text, {});
    const std::string next = request.file + (imperial ? " --units imperial" : "");
    return {request.ask ? fmt::format("\nWrote {}. Now look at it: boxroom check {}\n"
                                      "and find the box and its place: boxroom plan {}\n",
                                      request.file, next, next)
                        : fmt::format("Wrote {}. Edit it, then run: boxroom check {}\n",
                                      request.file, next),
            {{"file", request.file},
             {"timing_s", nlohmann::ordered_json::object()},
             {"warnings", nlohmann::ordered_json::array()}}};
}

Answer run_check(const Request& request) {
    Session session(request);
    Answer answer = check_answer(session);
    session.finish(answer);
    return answer;
}

/// Schroeder's frequency from the middle decay time of the modes: 2000 sqrt(T/V).
static double schroeder_frequency(const std::vector<Mode>& modes, double volume) {
    if (modes.empty()) return 0;
    std::vector<double> decay;
    for (const Mode& m : modes) decay.push_back(m.decay_time);
    std::nth_element(decay.begin(), decay.begin() + decay.size() / 2, decay.end());
    return 2000 * std::sqrt(decay[decay.size() / 2] / volume);
}

/// Where a mode is at home, if it is none of the room's own.
static std::string home_of(const Mode& mode) {
    if (mode.order == std::array{0, 0, 0}) return "  of the openings";
    return mode.next_door ? "  next door" : "";
}

/// How many modes a room has up to a frequency, about: 4 pi V f^3/(3 c^3) + pi S f^2/(4 c^2) + L
/// f/(8 c), V, S and L being volume, surface and edges (Kuttruff, Room Acoustics, sec. 3.2, eq.
/// 3.21).
static double about_modes(const Acoustics& a, double highest) {
    const double k = highest / a.air.speed_of_sound, x = a.room.width, y = a.room.length,
                 z = a.room.height;
    return 4 * M_PI / 3 * x * y * z * k * k * k + M_PI / 2 * (x * y + y * z + z * x) * k * k +
           (x + y + z) / 2 * k;
}

/// What takes minutes is refused with its numbers; elements refuse it themselves.
static void require_few_modes(const Acoustics& a, const std::string& file) {
    constexpr double most = 200'000;
    const double highest = a.frequency.back(), count = about_modes(a, highest);
    if (!a.room.is_rectangle() || count <= most) return;
    double lower = highest;
    while (about_modes(a, lower) > most) lower *= 0.98;
    throw Error(file,
                fmt::format("about {} modes lie below {:.0f} Hz, more than the {:.0f} that are "
                            "found in a minute",
                            count < 1e6 ? fmt::format("{:.0f}", count)
                                        : fmt::format("{:.0f} million", count / 1e6),
                            highest, most),
                fmt::format("end [analysis] band at {:.0f} Hz", std::floor(lower)));
}

Answer run_modes(const Request& request) {
    Session session(request);
    warn_of_open_days(session);
    const Acoustics& a = session.scenario.acoustics;
    require_few_modes(a, request.file);
    const double start = seconds_now();
    session.say("finding the modes", 0.1);
    const bool ordered = a.room.has_rectangle_floor();
    std::vector<Mode> modes;
    if (a.room.is_rectangle())
        modes = room_modes(a.room, a.air, a.frequency.back());
    else
        for (const auto& free : free_oscillations(a.room, a.air, a.frequency.back(), a.solver))
            modes.push_back(free.mode);
    session.timings["solve"] = seconds_now() - start;

    Answer answer;
    answer.json["modes"] = nlohmann::ordered_json::array();
    answer.text = ordered
                      ? "order      frequency   decay time (60 dB)      Q   in rooms as measured\n"
                      : "     frequency   decay time (60 dB)      Q\n";
    for (const Mode& m : modes) {
        nlohmann::ordered_json entry = nlohmann::ordered_json::object();
        if (ordered) entry["order"] = m.order;
        entry["frequency_hz"] = m.frequency;
        entry["decay_time_s"] = m.decay_time;
        entry["q"] = m.q;
        const auto measured = measured_decay(a.room, a.air, m);
        if (measured) entry["measured_decay_time_s"] = {measured->shortest, measured->longest};
        answer.json["modes"].push_back(entry);
        if (!ordered) {
            answer.text += fmt::format("    {:7.1f} Hz   {:10.2f} s      {:8.1f}\n", m.frequency,
                                       m.decay_time, m.q);
            continue;
        }
        answer.text += fmt::format(
            "({},{},{})    {:7.1f} Hz   {:10.2f} s      {:8.1f}{}{}\n", m.order[0], m.order[1],
            m.order[2], m.frequency, m.decay_time, m.q,
            measured ? fmt::format("   {:.1f} to {:.1f} s", measured->shortest, measured->longest)
                     : "",
            home_of(m));
    }
    if (modes.empty()) session.warnings.push_back("no mode lies in the analysed band");
    const double schroeder = schroeder_frequency(modes, a.room.volume());
    answer.json["schroeder_hz"] = schroeder;
    answer.text += fmt::format(
        "Single modes matter up to about {:.0f} Hz. As measured: below 100 Hz from plastered "
        "timber frame to heavy rooms, above it furnished living rooms at 125 Hz.\n",
        schroeder);
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
