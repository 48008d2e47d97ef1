// plan: boxes x spots, the recommendation and the report.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "app/build_parts.hpp"
#include "app/crossing_output.hpp"
#include "app/decision_output.hpp"
#include "app/drawing.hpp"
#include "app/floor_pictures.hpp"
#include "app/listening_output.hpp"
#include "app/recording_output.hpp"
#include "app/ringing_output.hpp"
#include "app/set_json.hpp"
#include "app/solver_output.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"
#include "live/flat_scenario.hpp"
#include "live/page_engine.hpp"
#include "picture/colour_map.hpp"
#include "placement/box_sweep.hpp"
#include "placement/crossing.hpp"
#include "placement/floor_need.hpp"
#include "placement/room_states.hpp"
#include "placement/wording.hpp"
#include "report/recording_charts.hpp"
#include "report/report.hpp"
#include "report/setup_card.hpp"
#include "room_file/planned_file.hpp"
#include "tuning/deciding.hpp"
#include "tuning/driver_choice.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// All that is worked out before a file is written.
struct Worked {
    DriverTable drivers;  ///< empty where there is nothing to choose
    Decided decided;
    PlanWords words;
    std::optional<Crossing> crossing;  ///< where something is crossed over
    std::vector<RingingNote> notes;
    DecayPicture decay;
    std::vector<BesidePrediction> beside;   ///< what the file has of measurements
    std::optional<FloorPictures> pictures;  ///< drawn while the rest is worked out and written

    const Plan& plan() const { return decided.plan; }
    const Decision& decision() const { return decided.decision; }
};

DecisionAsk asked(Session& session) {
    DecisionAsk ask;
    if (const auto counts = plan_counts(session); !counts.empty())
        ask.counts = counts, ask.all_must_fit = true, ask.most_draws = 100000, ask.drawn_sets = 10;
    const PlannedUnits units = planned_units(session.scenario.source_text);
    ask.length = units.length, ask.volume = units.volume;
    ask.tell = [&session](const std::string& phase, double share) { session.say(phase, share); };
    return ask;
}

Worked work_out(Session& session) {
    const Scenario& scenario = session.scenario;
    // Before anything takes time: a recording that cannot be read ends it.
    const auto recorded = heard_recordings(session, scenario.acoustics.frequency);
    Worked worked;
    worked.drivers = compare_drivers(scenario, session.timings);
    if (worked.drivers.chosen >= 0) {
        take_driver(worked.drivers.rows[worked.drivers.chosen].name, session.scenario);
        session.driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    }
    worked.decided = decide(scenario, session.driver, asked(session), session.timings);
    worked.pictures.emplace(worked.decided.plan.maps, session.request.units);
    // From here on the room is as it is on the day that counts.
    session.scenario = states_of(scenario)[worked.decision().states.worse];
    Plan& plan = worked.decided.plan;
    const Listening& heard = worked.decision().heard;
    const ClosedBox to_build =
        closed_box(session.driver, worked.decision().first().volume, scenario.design.filling);
    compare_if_asked(session, to_build, heard, plan.agreement);
    if (!recorded.empty())
        worked.beside = beside_predictions(
            session, chosen_box(scenario, session.driver, session.warnings), recorded);
    worked.words = plan_words(plan, worked.decision(), scenario, session.request.units);
    if (const std::string loaded = cone_load_words(session, heard); !loaded.empty())
        session.warnings.push_back(
            loaded + " It is counted in the responses at the chosen spot, not in the ranking.");
    warn_of_unknown_limits(session);
    if (has_crossing(scenario)) worked.crossing = cross(scenario, session.driver, heard);
    worked.notes = notes_of(scenario, heard);
    worked.decay = picture_of_decay(scenario, session.driver, to_build, heard, worked.notes);
    return worked;
}

/// What lets the report answer back: empty where this program has no engine to put into it.
LivePage live_page(const Scenario& scenario, const Decided& decided, const std::string& planned,
                   Units units) {
    LivePage page;
    page.engine = page_engine();
    const auto& subs = decided.decision.subs;
    const bool alike = std::ranges::all_of(
        subs, [&](const DecidedSub& sub) { return sub.volume == subs.front().volume; });
    if (!page.on() || !alike || !scenario.acoustics.room.is_rectangle() ||
        scenario.placed.cone_load)
        return {};  // the engine knows boxes of one size, shut rectangles and free cones
    Scenario built = scenario;
    built.design.box_volume = subs.front().volume;
    built.placed.subs.clear();
    for (const DecidedSub& sub : subs)
        built.placed.subs.push_back({sub.name, sub.footprint, sub.dial});
    page.file = planned;
    page.numbers = flat_scenario(built);
    for (int i = 0; i <= 32; ++i) {
        const Colour c = map_colour(1 - i / 32.0);  // low spread is good: dark
        page.colours.push_back(fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b));
    }
    page.other_words = plan_words(decided.plan, decided.decision, scenario,
                                  units == Units::metric ? Units::imperial : Units::metric);
    return page;
}

void write_files(Session& session, Worked& worked) {
    const Plan& plan = worked.plan();
    const double start = seconds_now();
    const std::string planned = planned_room_file(session.scenario, worked.decision());
    session.results.write("planned.toml", planned);
    session.results.write("plan.h5", plan_hdf5(plan, worked.words, session.provenance()));
    session.results.write("plan.csv", plan_csv(plan));
    session.results.write("curves.csv", curves_csv(plan.at_build));
    write_subs(session, worked.decided.subs);
    const std::string build_section = plan_build_section(session, worked.decision());
    const Units units = session.request.units;
    const Crossing* crossing = worked.crossing ? &*worked.crossing : nullptr;
    const ReportInput input{session.scenario,
                            plan,
                            worked.decision(),
                            worked.words,
                            units,
                            BOXROOM_VERSION,
                            session.warnings,
                            live_page(session.scenario, worked.decided, planned, units),
                            build_section,
                            &worked.decided.subs,
                            crossing,
                            worked.notes,
                            worked.decay,
                            worked.beside};
    session.results.write("report.html", html_report(input));
    session.results.write("setup.html", setup_card(input));
    if (crossing) write_crossing_csv(session, *crossing, session.scenario.seats);
    session.timings["write"] += seconds_now() - start;
    worked.pictures->write(session);
}

/// How loud each box plays at the chosen spot; the smallest that is loud enough, if that is asked.
Json loudest_json(const Plan& plan, const std::string& words) {
    Json json{{"boxes", Json::array()}};
    for (const BoxOption& box : plan.boxes)
        json["boxes"].push_back({{"qtc", box.qtc},
                                 {"volume_l", box.volume * 1e3},
                                 {"level_db", box.loudest_db},
                                 {"watts", box.watts},
                                 {"weight_kg", box.weight},
                                 {"limited_at_hz", box.limited_at_hz},
                                 {"limited_by", box.limited_by}});
    if (plan.smallest_for_level >= 0)
        json["smallest_volume_l"] = plan.boxes[plan.smallest_for_level].volume * 1e3;
    json["reason"] = words;
    return json;
}

Json band_json(const BandFinding& one) {
    return {{"band_hz", {one.band.low, one.band.high}},
            {"half_space_qtc", one.half_space_qtc},
            {"half_space_volume_l", one.half_space_volume * 1e3},
            {"in_room_qtc", one.in_room_qtc},
            {"in_room_volume_l", one.in_room_volume * 1e3}};
}

Json plan_json(const Worked& worked, const std::string& report) {
    const Plan& plan = worked.plan();
    const Decision& decision = worked.decision();
    const PlanWords& words = worked.words;
    Json json = decision_json(decision);
    const auto choice_json = [&](int best, int build) {
        return Json{{"best_qtc", plan.boxes[best].qtc},
                    {"best_volume_l", plan.boxes[best].volume * 1e3},
                    {"build_qtc", plan.boxes[build].qtc},
                    {"build_volume_l", plan.boxes[build].volume * 1e3}};
    };
    json["half_space"] = choice_json(plan.half_space_best, plan.half_space_build);
    json["in_room"] = choice_json(plan.in_room_best, plan.in_room_build);
    json["in_room"]["positions_m"] = Json::array();
    for (const DecidedSub& sub : decision.subs)
        json["in_room"]["positions_m"].push_back({sub.cone.x, sub.cone.y, sub.cone.z});
    for (const BandFinding& one : plan.by_band) json["by_band"].push_back(band_json(one));
    json["decided_by"] = plan.decided_by;
    json["textbook"] = {{"qtc", plan.boxes[plan.textbook].qtc},
                        {"volume_l", plan.boxes[plan.textbook].volume * 1e3}};
    const DecidedSub& first = decision.first();
    json["build"] = {{"qtc", first.qtc},
                     {"volume_l", first.volume * 1e3},
                     {"positions_m", json["in_room"]["positions_m"]},
                     {"facing", facing_name(first.facing)}};
    json["balance_by_qtc"] = Json::array();
    for (const BoxOption& box : plan.boxes)
        json["balance_by_qtc"].push_back({{"qtc", box.qtc},
                                          {"volume_l", box.volume * 1e3},
                                          {"half_space_db", box.half_space_balance_db},
                                          {"in_room_db", box.in_room_balance_db}});
    json["frequency_hz"] = plan.at_build.frequency;
    add_loudest(json, plan.at_build);
    if (!plan.boxes.front().limited_by.empty())
        json["loudest"] = loudest_json(plan, words.reason_level);
    json["recommendation"] = words.recommendation;
    json["reasons"] = {words.reason_spot, words.reason_box, words.how_much, words.how_sure};
    json["report"] = report;
    if (plan.agreement.known()) json["solver_agreement"] = agreement_json(plan.agreement);
    return json;
}

std::string plan_text(const Worked& worked, const std::string& planned, const std::string& report,
                      const std::string& setup) {
    const PlanWords& words = worked.words;
    std::string text = words.recommendation + "\n";
    for (const std::string& place : words.places) text += "  " + place + "\n";
    for (const std::string& sentence :
         {words.reason_spot, words.reason_box, words.how_much, words.reason_level, words.agreement,
          words.days, words.how_sure})
        if (!sentence.empty()) text += sentence + "\n";
    for (const std::string& other : words.alternatives) text += "Alternative: " + other + "\n";
    return text + fmt::format(
                      "Report: {}\nTo hear or see it: boxroom listen {}\n"
                      "To saw it: boxroom build {}\nTo set it up: {}\n",
                      report, planned, planned, setup);
}

}  // namespace

Answer run_plan(const Request& request) {
    Session session(request);
    expect_drawing();
    session.results.expect(
        {"planned.toml", "plan.h5", "plan.csv", "curves.csv", "report.html", "setup.html"});
    const auto counts = plan_counts(session);
    require_memory_for_floor(session.scenario,
                             boxes_to_try(session.scenario, session.driver).back(),
                             counts == std::vector{1} ? FloorSearch::boxes : FloorSearch::many_subs,
                             1e9 * request.memory);
    Worked worked = work_out(session);
    write_files(session, worked);
    const std::string report = (session.folder() / "report.html").string();
    const std::string planned = (session.folder() / "planned.toml").string();
    Answer answer{plan_text(worked, planned, report, (session.folder() / "setup.html").string()),
                  plan_json(worked, report)};
    answer.json["planned"] = planned;
    add_drivers(answer, worked.drivers, request.units);
    add_ringing(answer, worked.notes, session.scenario.acoustics.room);
    add_subs(answer, worked.decided.subs);
    if (worked.crossing) add_crossing(answer, *worked.crossing, session.scenario.seats);
    add_recordings(answer, session, worked.beside);
    if (const std::string far =
            recordings_words(worked.beside, session.scenario.judgement.target.band);
        !far.empty())
        answer.text += far + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
