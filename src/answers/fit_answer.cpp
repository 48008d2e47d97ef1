#include "answers/fit_answer.hpp"

#include <fmt/format.h>

#include <cmath>

#include "answers/criteria_output.hpp"
#include "answers/room_days.hpp"
#include "base/error.hpp"
#include "base/time_left.hpp"
#include "measured/furniture_words.hpp"
#include "placement/box_sweep.hpp"
#include "placement/floor_need.hpp"
#include "placement/listening.hpp"
#include "placement/wording.hpp"
#include "report/fit_page.hpp"
#include "room_file/fitted_room_file.hpp"
#include "room_file/room_file.hpp"
#include "tuning/deciding.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// Nearer than this it is the same place [m].
double one_place(const Scenario& scenario) {
    return 1.5 * scenario.wanted.spots.step;
}

/// One box; it keeps to the place of `before` where that is as good.
Advice advice_for(const Scenario& scenario, Units units, const Advice& before, Timings& timings) {
    try {
        const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
        DecisionAsk ask;
        ask.counts = {1}, ask.most_draws = 0;
        if (!before.subs.empty())
            ask.stay = before.subs.front().at, ask.one_place = one_place(scenario);
        const Decided decided = decide(scenario, driver, ask, timings);
        return {plan_words(decided.plan, decided.decision, scenario, units).recommendation,
                decided.decision.heard.subs};
    } catch (const Error& error) {
        return {std::string("no recommendation: ") + error.faults().front().what, {}};
    }
}

Moving moving_in(const Scenario& fitted, const Advice& before, const Advice& after) {
    Moving moving;
    if (before.subs.empty() || after.subs.empty()) return moving;
    const Point &was = before.subs.front().at, &is = after.subs.front().at;
    moving.far = std::hypot(was.x - is.x, was.y - is.y);
    const bool one_stands = fitted.placed.subs.size() == 1;
    PlacedSub here = one_stands ? fitted.placed.subs.front() : before.subs.front();
    if (one_stands) moving.name = here.name;
    if (std::hypot(here.at.x - is.x, here.at.y - is.y) <= one_place(fitted)) return moving;
    PlacedSub there = here;
    there.at = is, there.dial = after.subs.front().dial;
    std::vector<std::string> said;
    const Driver driver = complete_driver(fitted.design.driver, fitted.acoustics.air);
    const ClosedBox box = chosen_box(fitted, driver, said);
    moving.heard = true;
    moving.here = listen(fitted, driver, box, {here}).criteria;
    moving.there = listen(fitted, driver, box, {there}).criteria;
    moving.worth_it =
        moving.here.score - moving.there.score >= fitted.judgement.target.indifference;
    return moving;
}

std::string misfit_lines(const char* title, const std::vector<SeatMisfit>& all) {
    if (all.empty()) return {};
    std::string text = fmt::format("{:<40} before   after\n", title);
    for (const SeatMisfit& seat : all)
        text += fmt::format("  {:<38} {:>4.1f} dB {:>4.1f} dB\n", seat.name, seat.before_db,
                            seat.after_db);
    return text;
}

std::string parameter_lines(const RoomFit& fit) {
    std::string text = "\nWhat the recordings tell (90 %), and what was thought before:\n";
    for (const FittedParameter& p : fit.parameters)
        if (p.told_apart)
            text += fmt::format("  {:<44} {:.3g} ({:.3g} to {:.3g}), was {:.3g} to {:.3g}{}\n",
                                p.name, p.found.best, p.found.low, p.found.high, p.prior.low,
                                p.prior.high, p.unit == "1" ? "" : " " + p.unit);
    return text;
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
    json["recordings"] = Json::array();
    for (std::size_t r = 0; r < fit.recordings.size(); ++r) {
        const FoundRecording& one = fit.recordings[r];
        Json& out = json["recordings"].emplace_back(
            Json{{"name", fit.state.recordings[r].name}, {"gain_db", one.gain_db}});
        if (!one.timing) continue;
        out["delay_ms"] = 1e3 * one.timing->delay_s;
        out["inverted"] = one.timing->inverted;
        out["alike"] = one.timing->alike;
    }
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

/// What the recordings do not tell, what they may not be trusted for, and what would tell more.
std::vector<std::string> doubt_words(const RoomFit& fit, Units units) {
    std::vector<std::string> all;
    std::string not_told;
    for (const FittedParameter& p : fit.parameters)
        if (!p.told_apart && p.name.find("absorption") != p.name.npos)
            not_told += (not_told.empty() ? "" : ", ") + p.name;
    if (!not_told.empty()) all.push_back("Not told apart by these recordings: " + not_told + ".");
    for (const FittedParameter& p : fit.parameters) {
        std::string with;
        for (const auto& [one, other] : fit.entangled)
            if (!p.told_apart && (one == p.name || other == p.name))
                with += (with.empty() ? "" : ", ") + (one == p.name ? other : one);
        if (!with.empty())
            all.push_back(fmt::format("Known only together: {} with {}.", p.name, with));
    }
    all.push_back(
        fmt::format("Left over, as a doubt of every level: {:.1f} dB.", fit.discrepancy_db));
    for (const std::string& remark : fit.remarks) all.push_back("Note: " + remark + ".");
    if (fit.next.share > 0.005)
        all.push_back(fmt::format(
            "One more recording tells most with {} playing and the microphone {} from left, {} "
            "from front, {} up: {:.0f} % less doubt at the seats.",
            fit.next.sub, format_length(fit.next.at.x, units), format_length(fit.next.at.y, units),
            format_length(fit.next.at.z, units), 100 * fit.next.share));
    return all;
}

std::vector<std::string> moving_words(const Fitted& fitted, const Scenario& scenario) {
    const Moving& m = fitted.moving;
    std::vector<std::string> all;
    if (fitted.before.subs.empty() || fitted.after.subs.empty()) return all;
    if (m.far <= one_place(scenario)) all.emplace_back("The recommended place stays as it was.");
    if (!m.heard) return all;
    all.push_back(
        fmt::format("In the corrected room {} gives {}.",
                    m.name.empty() ? "the place recommended before" : m.name + ", where it stands,",
                    criteria_words(m.here)));
    all.push_back(fmt::format("The place recommended now gives {}.", criteria_words(m.there)));
    all.emplace_back(m.worth_it ? "It is worth moving the box there."
                                : "It is not worth moving the box.");
    return all;
}

}  // namespace

void require_memory_for_fit(const Inquiry& inquiry) {
    require_memory_for_floor(inquiry.scenario,
                             boxes_to_try(inquiry.scenario, inquiry.driver).back(),
                             FloorSearch::boxes, 1e9 * inquiry.wishes.memory);
}

Fitted find_fit(Inquiry& inquiry, std::vector<HeardCurve> heard, const Microphone& microphone,
                const std::filesystem::path& folder, bool look_for_furniture) {
    warn_of_open_days(inquiry);
    const Scenario& scenario = inquiry.scenario;
    const Units units = inquiry.wishes.units;
    const ClosedBox box = chosen_box(scenario, inquiry.driver, inquiry.warnings);

    // 1. The likeliest room.
    double start = seconds_now();
    FitQuestion question{scenario,
                         inquiry.driver,
                         box,
                         std::move(heard),
                         [&](const std::string& phase, double share) {
                             inquiry.say(phase, share, seconds_left(start, share));
                         },
                         look_for_furniture};
    Fitted out;
    out.fit = fit_room(question);
    out.heard = std::move(question.heard);
    inquiry.timings["fit"] = seconds_now() - start;

    // 2. As a file says it, and what is recommended there.
    start = seconds_now();
    out.file = fitted_room_file(scenario, out.fit, microphone, folder);
    Scenario fitted = parse_room_file(out.file, (folder / "fitted.toml").string());
    fitted.acoustics.solver = scenario.acoustics.solver;
    inquiry.say("planning with the file's room", 0.94);
    Timings within;
    out.before = advice_for(scenario, units, {}, within);
    inquiry.say("planning with the fitted room", 0.97);
    out.after = advice_for(fitted, units, out.before, within);
    out.moving = moving_in(fitted, out.before, out.after);
    inquiry.timings["plan"] = seconds_now() - start;
    return out;
}

double fit_seconds(Inquiry& inquiry, std::vector<HeardCurve> heard) {
    const Scenario& scenario = inquiry.scenario;
    std::vector<std::string> said;
    const ClosedBox box = chosen_box(scenario, inquiry.driver, said);
    const double fit = fit_seconds({scenario, inquiry.driver, box, std::move(heard), {}});
    // A quarter of the spots, and all else that a plan does: some 0.4 of its time; twice.
    Scenario coarse = scenario;
    coarse.wanted.spots.step *= 2;
    Timings within;
    const double start = seconds_now();
    advice_for(coarse, inquiry.wishes.units, {}, within);
    return fit + 2 * (seconds_now() - start) / 0.4;
}

std::vector<std::string> fit_words(const Inquiry& inquiry, const Fitted& fitted) {
    std::vector<std::string> all{furniture_words(fitted.fit, inquiry.wishes.units),
                                 "Before: " + fitted.before.words, "After: " + fitted.after.words};
    for (std::string& words : moving_words(fitted, inquiry.scenario))
        all.push_back(std::move(words));
    for (std::string& words : doubt_words(fitted.fit, inquiry.wishes.units))
        all.push_back(std::move(words));
    return all;
}

std::string fit_html(const Inquiry& inquiry, const Fitted& fitted) {
    return fit_page(fitted.fit, fitted.heard, inquiry.scenario.title, fit_words(inquiry, fitted),
                    BOXROOM_VERSION);
}

Answer fit_answer(const Inquiry& inquiry, const Fitted& fitted) {
    const RoomFit& fit = fitted.fit;
    const Moving& moving = fitted.moving;
    Answer answer{misfit_lines("Off by, at the seats that were fitted", fit.seats) +
                      misfit_lines("Off by, each seat left out of the fit", fit.left_out) +
                      parameter_lines(fit) + "\n",
                  fit_json(fit)};
    for (const std::string& words : fit_words(inquiry, fitted)) answer.text += words + "\n";
    answer.json["recommendation_before"] = fitted.before.words;
    answer.json["recommendation_after"] = fitted.after.words;
    answer.json["recommendation_moves_m"] = moving.far;
    for (const auto& [name, advice] :
         {std::pair{"before", &fitted.before}, {"after", &fitted.after}})
        if (!advice->subs.empty()) {
            const Point& at = advice->subs.front().at;
            answer.json["recommended_m"][name] = {at.x, at.y, at.z};
        }
    if (moving.heard)
        answer.json["moving"] = {{"here", criteria_json(moving.here, true)},
                                 {"there", criteria_json(moving.there, true)},
                                 {"worth_it", moving.worth_it}};
    return answer;
}

}  // namespace boxroom
