// plan: boxes x spots, the recommendation and the report.
#include <fmt/format.h>

#include <optional>

#include "app/build_parts.hpp"
#include "app/crossing_output.hpp"
#include "app/listening_output.hpp"
#include "app/ringing_output.hpp"
#include "app/set_json.hpp"
#include "app/solver_output.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"
#include "live/flat_scenario.hpp"
#include "live/page_engine.hpp"
#include "placement/crossing.hpp"
#include "placement/wording.hpp"
#include "report/report.hpp"
#include "viz/colour_map.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// All that is worked out before a file is written.
struct Worked {
    Plan plan;
    PlanWords words;
    std::optional<SubsPlan> subs;      ///< where more than one box was asked about
    std::optional<Crossing> crossing;  ///< where something is crossed over
    std::vector<RingingNote> notes;
    DecayPicture decay;

    /// The response of what is advised: several boxes where that was asked.
    const Listening& advised() const {
        return subs ? subs->options[subs->advice].heard : plan.at_build;
    }
};

Worked work_out(Session& session) {
    session.say("solving the room and judging boxes and spots", 0.1);
    const Scenario& scenario = session.scenario;
    Worked worked;
    Plan& plan = worked.plan;
    plan = make_plan(scenario, session.driver, session.timings);
    const ClosedBox to_build =
        closed_box(session.driver, plan.boxes[plan.build].volume, scenario.design.filling);
    compare_if_asked(session, to_build, plan.at_build, plan.agreement);
    worked.words = plan_words(plan, scenario, session.request.units);
    if (const std::string loaded = cone_load_words(session, plan.at_build); !loaded.empty())
        session.warnings.push_back(
            loaded + " It is counted in the responses at the chosen spot, not in the ranking.");
    warn_of_unknown_limits(session);
    if (const auto counts = plan_counts(session); !counts.empty())
        worked.subs = plan_subs(session, plan, counts);
    if (has_crossing(scenario)) worked.crossing = cross(scenario, session.driver, worked.advised());
    worked.notes = notes_of(scenario, worked.advised());
    worked.decay =
        picture_of_decay(scenario, session.driver, to_build, worked.advised(), worked.notes);
    return worked;
}

/// What lets the report answer back: empty where this program has no engine to put into it.
LivePage live_page(const Scenario& scenario, const Plan& plan, Units units) {
    LivePage page{page_engine(), {}, {}, {}};
    if (!page.on() || !scenario.acoustics.room.is_rectangle() || scenario.placed.cone_load)
        return {};  // the engine knows shut rectangles and free cones
    Scenario built = scenario;
    built.design.box_volume = plan.boxes[plan.build].volume;
    built.placed.subs.clear();
    page.numbers = flat_scenario(built);
    for (int i = 0; i <= 32; ++i) {
        const Colour c = map_colour(1 - i / 32.0);  // low spread is good: dark
        page.colours.push_back(fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b));
    }
    page.other_words =
        plan_words(plan, scenario, units == Units::metric ? Units::imperial : Units::metric);
    return page;
}

void write_files(Session& session, const Worked& worked) {
    const Plan& plan = worked.plan;
    const auto pictures = session.write_maps(plan.maps);
    const double start = seconds_now();
    session.results.write("plan.h5", plan_hdf5(plan, worked.words, session.provenance()));
    session.results.write("plan.csv", plan_csv(plan));
    session.results.write("curves.csv", curves_csv(plan.at_build));
    const std::string build_section = plan_build_section(session, plan);
    const Units units = session.request.units;
    const Crossing* crossing = worked.crossing ? &*worked.crossing : nullptr;
    session.results.write(
        "report.html",
        html_report({session.scenario, plan, worked.words, pictures, units, BOXROOM_VERSION,
                     session.warnings, live_page(session.scenario, plan, units), build_section,
                     worked.subs ? &*worked.subs : nullptr, crossing, worked.notes, worked.decay}));
    if (crossing) write_crossing_csv(session, *crossing, session.scenario.seats);
    session.timings["write"] += seconds_now() - start;
}

/// How loud each box plays at the chosen spot; the smallest that is loud enough, if that is asked.
Json loudest_json(const Plan& plan, const std::string& words) {
    Json json{{"boxes", Json::array()}};
    for (const BoxOption& box : plan.boxes)
        json["boxes"].push_back({{"qtc", box.qtc},
                                 {"volume_l", box.volume * 1e3},
                                 {"level_db", box.loudest_db},
                                 {"limited_at_hz", box.limited_at_hz},
                                 {"limited_by", box.limited_by}});
    if (plan.smallest_for_level >= 0)
        json["smallest_volume_l"] = plan.boxes[plan.smallest_for_level].volume * 1e3;
    json["reason"] = words;
    return json;
}

Json plan_json(const Plan& plan, const PlanWords& words, const std::string& report) {
    Json json;
    const auto box_json = [&](int index) {
        return Json{{"best_qtc", plan.boxes[index].qtc},
                    {"best_volume_l", plan.boxes[index].volume * 1e3}};
    };
    json["half_space"] = box_json(plan.half_space_best);
    json["in_room"] = box_json(plan.in_room_best);
    const Point& p = plan.spots.front().positions.front();
    json["in_room"]["positions_m"] = {{p.x, p.y, p.z}};
    json["textbook"] = {{"qtc", plan.boxes[plan.textbook].qtc},
                        {"volume_l", plan.boxes[plan.textbook].volume * 1e3}};
    const Point& at = plan.spot.positions.front();
    json["build"] = {{"qtc", plan.boxes[plan.build].qtc},
                     {"volume_l", plan.boxes[plan.build].volume * 1e3},
                     {"positions_m", {{at.x, at.y, at.z}}},
                     {"facing", facing_name(plan.spot.facing)}};
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

std::string plan_text(const Plan& plan, const PlanWords& words, const std::string& file,
                      const std::string& report) {
    std::string text;
    for (const std::string& sentence :
         {words.recommendation, words.reason_spot, words.reason_box, words.how_much,
          words.reason_level, words.agreement, words.how_sure})
        if (!sentence.empty()) text += sentence + "\n";
    return text + fmt::format("Report: {}\nTo saw it: boxroom build {} --volume \"{:.2f} L\"\n",
                              report, file, plan.boxes[plan.build].volume * 1e3);
}

}  // namespace

Answer run_plan(const Request& request) {
    Session session(request);
    session.results.expect({"plan.h5", "plan.csv", "curves.csv", "report.html"});
    const Worked worked = work_out(session);
    write_files(session, worked);
    const std::string report = (session.folder() / "report.html").string();
    Answer answer{plan_text(worked.plan, worked.words, request.file, report),
                  plan_json(worked.plan, worked.words, report)};
    add_ringing(answer, worked.notes);
    if (worked.subs) add_subs(answer, *worked.subs, request.units);
    if (worked.crossing) add_crossing(answer, *worked.crossing, session.scenario.seats);
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
