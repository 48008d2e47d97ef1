// sweep: the signal to play for measuring, and how to play and record it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "answers/listening_output.hpp"
#include "app/measured_commands.hpp"
#include "app/session.hpp"
#include "base/levels.hpp"
#include "measured/sweep.hpp"
#include "placement/listening.hpp"

namespace boxroom {

namespace {

/// What the subs of the file bear while the sweep passes, with 6 dB in hand.
struct Limit {
    double volts = 0;      ///< RMS at the terminals
    double level_db = 0;   ///< at the seats then, mean over the target band; absolute drivers only
    double frequency = 0;  ///< where the limit lies
    std::string by;
};

constexpr double in_hand_db = 6;
constexpr double wanted_level_db = 75;  ///< at the seats: 30 dB above a quiet room, no harm to ears

std::optional<Limit> limit_of(Session& session) {
    const Scenario& scenario = session.scenario;
    if (scenario.placed.subs.empty()) {
        session.warnings.push_back("no [[sub]] is placed, so nothing is known of its limits");
        return std::nullopt;
    }
    const ClosedBox box = chosen_box(scenario, session.driver, session.warnings);
    const Listening heard = listen(scenario, session.driver, box, scenario.placed.subs);
    warn_of_unknown_limits(session);
    if (heard.max_level_db.empty()) return std::nullopt;
    Limit limit;
    double least = HUGE_VAL;
    for (std::size_t f = 0; f < heard.frequency.size(); ++f) {
        const double room_left = heard.max_level_db[f] - heard.seat_average_db[f];
        if (room_left >= least) continue;
        least = room_left;
        limit.frequency = heard.frequency[f], limit.by = heard.limited_by[f];
    }
    limit.volts = 2.83 * amplitude_of_db(least - in_hand_db);
    limit.level_db = heard.criteria.level_db + least - in_hand_db;
    return limit;
}

std::string card(const Sweep& sweep, const std::optional<Limit>& limit) {
    const double whole = sweep.silence_before + sweep.seconds + sweep.silence_after;
    const double wanted =
        limit ? std::min(wanted_level_db, std::floor(limit->level_db)) : wanted_level_db;
    std::string text = fmt::format(
        "{:.0f} to {:.0f} Hz in {:.0f} s, after {:.0f} s of silence; {:.0f} s in all.\n\n"
        "Before:  turn the equaliser, bass boost, loudness and other loudspeakers off.\n"
        "         Play with one sub at a time, its crossover at the highest setting.\n"
        "Level:   begin with the volume at zero and raise it while the sweep plays.\n"
        "         About {:.0f} dB at the seat is enough; stop where the cone knocks or hums.\n",
        sweep.low, sweep.high, sweep.seconds, sweep.silence_before, whole, wanted);
    if (limit)
        text += fmt::format(
            "         Never more than {:.1f} V at the sub ({} at {:.0f} Hz, {:.0f} dB in "
            "hand).\n",
            limit->volts, limit->by, limit->frequency, in_hand_db);
    text += fmt::format(
        "Ears:    leave the room while it plays, or wear protection; keep children and pets "
        "out.\n"
        "Record:  one seat after the other, microphone at ear height, nobody in the seat.\n"
        "         Start the recorder before the player, and let it run until {:.0f} s are "
        "over.\n"
        "         44.1 or 48 kHz, no automatic gain, no limiter, no noise reduction; never "
        "clip.\n"
        "         Leave all gains as they are from the first seat to the last.\n"
        "Then:    name each recording in the room file:\n"
        "           [[recording]]\n           seat = \"...\"\n           sub = \"...\"\n"
        "           sound = \"recording.wav\"\n",
        whole);
    return text;
}

}  // namespace

Answer run_sweep(const Request& request) {
    Session session(request);
    session.results.expect({"sweep.wav", "sweep.txt"});
    session.say("solving the room", 0.2);
    const Sweep sweep;
    const double start = seconds_now();
    const std::optional<Limit> limit = limit_of(session);
    session.timings["solve"] = seconds_now() - start;
    Answer answer;
    answer.text = card(sweep, limit);
    session.results.write("sweep.wav", sweep_wav(sweep));
    session.results.write("sweep.txt", answer.text);
    const std::string file = (session.folder() / "sweep.wav").string();
    answer.json = {{"file", file},
                   {"low_hz", sweep.low},
                   {"high_hz", sweep.high},
                   {"seconds", sweep.seconds},
                   {"silence_before_s", sweep.silence_before},
                   {"silence_after_s", sweep.silence_after},
                   {"level_dbfs", sweep.level_dbfs}};
    if (limit) {
        answer.json["most_volts"] = limit->volts;
        answer.json["limited_by"] = limit->by;
        answer.json["limited_at_hz"] = limit->frequency;
        if (session.driver.absolute()) answer.json["most_level_db"] = limit->level_db;
    }
    answer.json["card"] = answer.text;
    answer.text = "Play " + file + ": " + answer.text;
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
