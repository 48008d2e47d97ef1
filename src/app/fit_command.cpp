// fit: recordings correct the room.
#include <fmt/format.h>

#include <cmath>

#include "answers/room_days.hpp"
#include "app/measured_commands.hpp"
#include "app/recording_output.hpp"
#include "base/error.hpp"
#include "base/time_left.hpp"
#include "files/csv.hpp"
#include "files/fit_file.hpp"
#include "measured/furniture_words.hpp"
#include "measured/room_fit.hpp"
#include "placement/box_sweep.hpp"
#include "placement/floor_need.hpp"
#include "placement/planning.hpp"
#include "placement/wording.hpp"
#include "report/fit_page.hpp"
#include "room_file/fitted_room_file.hpp"
#include "room_file/recordings_of.hpp"
#include "room_file/room_file.hpp"
#include "tuning/deciding.hpp"

namespace boxroom {

namespace {

using Json = nlohmann::ordered_json;

/// What would be recommended for a scenario, and how good the recommended spot is there; empty
/// where nothing can be planned (no box fits anywhere, say).
struct Advice {
    std::string words;
    Point at;
    double score = 0;
};

Advice advice_for(const Scenario& scenario, const Session& session, Timings& timings) {
    try {
        const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
        DecisionAsk ask;
        ask.counts = {1}, ask.most_draws = 0;
        const Decided decided = decide(scenario, driver, ask, timings);
        return {plan_words(decided.plan, decided.decision, scenario, session.request.units)
                    .recommendation,
                decided.decision.first().cone, decided.decision.heard.criteria.score};
    } catch (const Error& error) {
        return {std::string("no recommendation: ") + error.faults().front().what, {}, 0};
    }
}

Json misfits(const std::vector<SeatMisfit>& all) {
    Json json = Json::array();
    for (const SeatMisfit& seat : all)
        json.push_back(
            {{"name", seat.name}, {"before_db", seat.before_db}, {"after_db", seat.after_db}});
    return json;
}

Json fit_json(const RoomFit& fit) {
    Json json;
    json["seats"] = misfits(fit.seats);
    json["left_out"] = misfits(fit.left_out);
    json["parameters"] = Json::array();
    for (const FittedParameter& p : fit.parameters)
        json["parameters"].push_back({{"name", p.name},
                                      {"unit", p.unit},
                                      {"low", p.found.low},
                                      {"best", p.found.best},
                                      {"high", p.found.high},
                                      {"told_apart", p.told_apart},
                                      {"prior_low", p.prior.low},
                                      {"prior_high", p.prior.high}});
    json["entangled"] = Json::array();
    for (const auto& [one, other] : fit.entangled) json["entangled"].push_back({one, other});
    json["furniture"] = {{"looked_for", fit.furniture_looked_for},
                         {"found", fit.furniture.has_value()}};
    if (fit.furniture) {
        const Block& block = fit.furniture->block;
        json["furniture"]["wall"] = wall_names.at(fit.furniture->wall);
        json["furniture"]["from_m"] = {block.from.x, block.from.y, block.from.z};
        json["furniture"]["to_m"] = {block.to.x, block.to.y, block.to.z};
    }
    json["discrepancy_db"] = fit.discrepancy_db;
    json["settled"] = fit.settled;
    if (fit.next.share > 0)
        json["next_measurement"] = {{"microphone_m", {fit.next.at.x, fit.next.at.y, fit.next.at.z}},
                                    {"sub", fit.next.sub},
                                    {"doubt_taken_away", fit.next.share}};
    json["remarks"] = fit.remarks;
    return json;
}

std::string misfit_lines(const char* title, const std::vector<SeatMisfit>& all) {
    if (all.empty()) return {};
    std::string text = fmt::format("{:<40} before   after\n", title);
    for (const SeatMisfit& seat : all)
        text += fmt::format("  {:<38} {:>4.1f} dB {:>4.1f} dB\n", seat.name, seat.before_db,
                            seat.after_db);
    return text;
}

std::string fit_text(const RoomFit& fit, Units units) {
    std::string text = misfit_lines("Off by, at the seats that were fitted", fit.seats) +
                       misfit_lines("Off by, each seat left out of the fit", fit.left_out) + "\n" +
                       furniture_words(fit, units) +
                       "\n\nWhat the recordings tell (90 %), and what was thought before:\n";
    for (const FittedParameter& p : fit.parameters)
        if (p.told_apart)
            text += fmt::format("  {:<44} {:.3g} ({:.3g} to {:.3g}), was {:.3g} to {:.3g}{}\n",
                                p.name, p.found.best, p.found.low, p.found.high, p.prior.low,
                                p.prior.high, p.unit == "1" ? "" : " " + p.unit);
    std::string not_told;
    for (const FittedParameter& p : fit.parameters)
        if (!p.told_apart && p.name.find("absorption") != p.name.npos)
            not_told += (not_told.empty() ? "" : ", ") + p.name;
    if (!not_told.empty()) text += "Not told apart by these recordings: " + not_told + ".\n";
    for (const auto& [one, other] : fit.entangled)
        text += fmt::format("Known only together: {} and {}.\n", one, other);
    text += fmt::format("Left over, as a doubt of every level: {:.1f} dB.\n", fit.discrepancy_db);
    for (const std::string& remark : fit.remarks) text += "Note: " + remark + ".\n";
    if (fit.next.share > 0.005)
        text += fmt::format(
            "One more recording tells most with {} playing and the microphone {} from left, {} "
            "from "
            "front, {} up: {:.0f} % less doubt at the seats.\n",
            fit.next.sub, format_length(fit.next.at.x, units), format_length(fit.next.at.y, units),
            format_length(fit.next.at.z, units), 100 * fit.next.share);
    return text;
}

std::string fit_csv(const RoomFit& fit, const std::vector<HeardCurve>& heard) {
    Csv csv;
    csv.field("frequency_hz");
    for (const HeardCurve& curve : heard)
        for (const char* what : {"measured", "before", "after", "doubt"})
            csv.field(curve.recording.name + " " + what + "_db");
    csv.end_row();
    for (std::size_t f = 0; f < heard.front().frequency.size(); ++f) {
        csv.number(heard.front().frequency[f]);
        for (std::size_t r = 0; r < heard.size(); ++r) {
            csv.number(heard[r].trusted[f] ? heard[r].level_db[f] : std::nan(""));
            csv.number(fit.before_db[r][f]);
            csv.number(fit.after_db[r][f]);
            csv.number(fit.doubt_db[r][f]);
        }
        csv.end_row();
    }
    return csv.take();
}

/// Whether the recommendation changes; another spot within a step is the same.
void add_advice(Answer& answer, Session& session, const Scenario& fitted) {
    session.say("planning with the fitted room", 0.96);
    const Advice before = advice_for(session.scenario, session, session.timings);
    const Advice after = advice_for(fitted, session, session.timings);
    answer.json["recommendation_before"] = before.words;
    answer.json["recommendation_after"] = after.words;
    const double moved = std::hypot(before.at.x - after.at.x, before.at.y - after.at.y);
    answer.json["recommendation_moves_m"] = moved;
    answer.text += "\nBefore: " + before.words + "\nAfter:  " + after.words + "\n";
    if (moved <= 1.5 * session.scenario.wanted.spots.step)
        answer.text += "The place stays as it was.\n";
}

}  // namespace

Answer run_fit(const Request& request) {
    Session session(request);
    session.results.expect({"fitted.toml", "fit.h5", "fit.csv", "fit.html"});
    warn_of_open_days(session);
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    // It plans for the file's room and for the fitted one.
    require_memory_for_floor(session.scenario,
                             boxes_to_try(session.scenario, session.driver).back(),
                             FloorSearch::boxes, 1e9 * request.memory);
    const Recordings recordings = recordings_of(session.scenario, request.file);
    require_nameable(recordings, session.folder());
    const Scenario& scenario = session.scenario;

    // 1. The recordings, on the fit's own frequencies, and the fit.
    double start = seconds_now();
    FitQuestion question{scenario, session.driver, box,
                         heard_recordings(session, fit_grid(scenario)),
                         [&, begin = start](const std::string& phase, double share) {
                             session.say(phase, share, seconds_left(begin, share));
                         }};
    session.timings["read"] = seconds_now() - start;
    start = seconds_now();
    const RoomFit fit = fit_room(question);
    session.timings["fit"] = seconds_now() - start;

    // 2. What is written and said.
    Answer answer{fit_text(fit, request.units), fit_json(fit)};
    const std::string text =
        fitted_room_file(scenario, fit, recordings.microphone, session.folder());
    Scenario fitted = parse_room_file(text, (session.folder() / "fitted.toml").string());
    fitted.acoustics.solver = scenario.acoustics.solver;
    session.results.write("fitted.toml", text);
    session.results.write("fit.h5", fit_hdf5(fit, question.heard, session.provenance()));
    session.results.write("fit.csv", fit_csv(fit, question.heard));
    add_advice(answer, session, fitted);
    std::vector<std::string> sentences{
        "Before: " + answer.json["recommendation_before"].get<std::string>(),
        "After: " + answer.json["recommendation_after"].get<std::string>(),
        furniture_words(fit, request.units)};
    for (const std::string& remark : fit.remarks) sentences.push_back("Note: " + remark + ".");
    session.results.write("fit.html",
                          fit_page(fit, question.heard,
                                   (scenario.title.empty() ? "The room" : scenario.title) +
                                       ", corrected by measurement",
                                   sentences, BOXROOM_VERSION));
    answer.json["fitted"] = (session.folder() / "fitted.toml").string();
    answer.text += "Results in " + session.folder().string() + "; plan on with " +
                   (session.folder() / "fitted.toml").string() + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
