// listen, map, rank, plan: the subs in the room.
#include <fmt/format.h>

#include "app/build_parts.hpp"
#include "app/crossing_output.hpp"
#include "app/ringing_output.hpp"
#include "app/set_json.hpp"
#include "app/solver_output.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"
#include "live/flat_scenario.hpp"
#include "live/page_engine.hpp"
#include "placement/crossing.hpp"
#include "placement/plane_map.hpp"
#include "placement/wording.hpp"
#include "report/report.hpp"
#include "viz/colour_map.hpp"

namespace boxroom {
namespace {

nlohmann::ordered_json spot_json(const RankedSpot& spot) {
    nlohmann::ordered_json json = {{"rank", spot.rank}};
    json["positions_m"] = nlohmann::ordered_json::array();
    for (const Point& p : spot.positions) json["positions_m"].push_back({p.x, p.y, p.z});
    json["facing"] = facing_name(spot.facing);
    json.update(criteria_json(spot.criteria, true));
    return json;
}

std::string spot_line(const RankedSpot& spot, Units units) {
    return fmt::format("{:>4}  {:>10}  {:>10}  {:<6}{}\n", spot.rank,
                       format_length(spot.footprint.x, units),
                       format_length(spot.footprint.y, units), facing_name(spot.facing),
                       criteria_cells(spot.criteria));
}

/// The loudest clean level, where it is known.
void add_loudest(nlohmann::ordered_json& json, const Listening& heard) {
    if (heard.max_level_db.empty()) return;
    json["max_level_db"] = heard.max_level_db;
    json["half_space_max_level_db"] = heard.half_space_max_level_db;
    json["limited_by"] = heard.limited_by;
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

std::string spot_heading() {
    return fmt::format("{:>4}  {:>10}  {:>10}  {:<6}{}\n{:36}{}\n", "rank", "from left",
                       "from front", "facing", criteria_names(), "", criteria_units());
}

}  // namespace

Answer run_listen(const Request& request) {
    Session session(request);
    session.results.expect({"listen.h5", "listen.csv"});
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    session.say("solving the room", 0.1);
    double start = seconds_now();
    const bool crossed = has_crossing(session.scenario) && !session.scenario.placed.subs.empty();
    Crossing crossing;
    const auto& subs = session.scenario.placed.subs;
    const Listening result =
        crossed ? listen_with_mains(session.scenario, session.driver, box, subs, crossing)
                : listen(session.scenario, session.driver, box, subs);
    session.timings["solve"] = seconds_now() - start;
    SolverAgreement agreement;
    const std::string trust = compare_if_asked(session, box, result, agreement);
    const std::string loaded = cone_load_words(session, result);
    start = seconds_now();
    session.results.write(
        "listen.h5", listening_hdf5(result, session.provenance(), crossed ? &crossing : nullptr));
    session.results.write("listen.csv", curves_csv(result));
    if (crossed) write_crossing_csv(session, crossing, result.seats);
    session.timings["write"] = seconds_now() - start;

    Answer answer;
    const std::size_t seats = result.seats.size();
    answer.json["frequency_hz"] = result.frequency;
    answer.json["seats"] = nlohmann::ordered_json::array();
    for (std::size_t s = 0; s < seats; ++s) {
        answer.json["seats"].push_back({{"name", result.seats[s].name},
                                        {"level_db", result.level_db.over_frequency(s)},
                                        {"phase_deg", result.phase_deg.over_frequency(s)}});
    }
    answer.json["seat_average_db"] = result.seat_average_db;
    answer.json["half_space_db"] = result.half_space_db;
    answer.json["lift_db"] = result.lift_db;
    add_loudest(answer.json, result);
    for (const std::string& text :
         unknown_limits(session.driver, session.scenario.design.amplifier))
        session.warnings.push_back(text);
    answer.json.update(criteria_json(result.criteria));
    answer.text = fmt::format(
        "box {} (Qtc {:.2f}), {} sub(s), {} seat(s)\n{}", format_volume(box.volume, request.units),
        box.qtc, result.subs.size(), seats,
        criteria_lines(result.criteria, result.absolute ? " re 20 uPa at 2.83 V"
                                                        : " re the passband at 1 m in half space"));
    add_ringing(answer, notes_of(session.scenario, result));
    if (!result.cone_load_db.empty()) answer.json["cone_load_db"] = result.cone_load_db.values();
    if (!loaded.empty()) answer.text += loaded + "\n";
    if (agreement.known()) {
        answer.json["solver_agreement"] = agreement_json(agreement);
        answer.text += trust + "\n";
    }
    if (crossed) add_crossing(answer, crossing, result.seats);
    answer.text += "Results in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

Answer run_map(const Request& request) {
    Session session(request);
    session.results.expect({"spread_by_spot.png", "spread_by_spot.vti"});
    if (request.frequency)
        session.scenario.wanted.map_frequency =
            parse_quantity(*request.frequency, Quantity::frequency);
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    session.say("solving the room", 0.1);
    const Ranking ranking = rank_spots(session.scenario, session.driver, box, session.timings);
    std::vector<FloorMap> maps{ranking.spread_map};
    if (session.scenario.placed.subs.empty()) {
        session.warnings.push_back("no [[sub]] is placed, so there is no map of the level");
    } else {
        const double start = seconds_now();
        for (FloorMap& map : listening_plane_maps(session.scenario, session.driver, box))
            maps.push_back(std::move(map));
        session.timings["solve"] += seconds_now() - start;
    }
    session.write_maps(maps);
    Answer answer;
    answer.json["maps"] = nlohmann::ordered_json::array();
    for (const FloorMap& map : maps) {
        const auto picture = (session.folder() / (map.name + ".png")).string();
        answer.json["maps"].push_back({{"name", map.name}, {"title", map.title}, {"png", picture}});
        answer.text += map.title + ": " + picture + "\n";
    }
    session.finish(answer);
    return answer;
}

Answer run_rank(const Request& request) {
    Session session(request);
    session.results.expect({"rank.h5", "rank.csv"});
    if (request.subs > 0) return run_rank_sets(session, {request.subs});
    if (!session.scenario.wanted.sub_counts.empty())
        return run_rank_sets(session, session.scenario.wanted.sub_counts);
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    session.say("solving the room and judging the spots", 0.1);
    const Ranking ranking = rank_spots(session.scenario, session.driver, box, session.timings);
    session.write_maps({ranking.spread_map, ranking.score_map});
    const double start = seconds_now();
    session.results.write("rank.h5", ranking_hdf5(ranking, session.provenance()));
    session.results.write("rank.csv", spots_csv(ranking));
    session.timings["write"] += seconds_now() - start;

    Answer answer;
    answer.json["box"] = {{"volume_l", box.volume * 1e3}, {"qtc", box.qtc}};
    answer.json["spots"] = nlohmann::ordered_json::array();
    for (const RankedSpot& spot : ranking.spots) answer.json["spots"].push_back(spot_json(spot));
    answer.text = fmt::format("box {} (Qtc {:.2f}), {} spots; centre of the box:\n{}",
                              format_volume(box.volume, request.units), box.qtc,
                              ranking.spots.size(), spot_heading());
    for (std::size_t n = 0; n < ranking.spots.size() && n < 10; ++n)
        answer.text += spot_line(ranking.spots[n], request.units);
    answer.text += ranking.reason + "\nResults in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

/// How loud each box plays at the chosen spot; the smallest that is loud enough, if that is asked.
static nlohmann::ordered_json loudest_json(const Plan& plan, const std::string& words) {
    nlohmann::ordered_json json{{"boxes", nlohmann::ordered_json::array()}};
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

static nlohmann::ordered_json plan_json(const Plan& plan, const PlanWords& words,
                                        const std::string& report) {
    using Json = nlohmann::ordered_json;
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

static std::string plan_text(const Plan& plan, const PlanWords& words, const std::string& file,
                             const std::string& report) {
    std::string text;
    for (const std::string& sentence :
         {words.recommendation, words.reason_spot, words.reason_box, words.how_much,
          words.reason_level, words.agreement, words.how_sure})
        if (!sentence.empty()) text += sentence + "\n";
    return text + fmt::format("Report: {}\nTo saw it: boxroom build {} --volume \"{:.2f} L\"\n",
                              report, file, plan.boxes[plan.build].volume * 1e3);
}

Answer run_plan(const Request& request) {
    Session session(request);
    session.results.expect({"plan.h5", "plan.csv", "curves.csv", "report.html"});
    session.say("solving the room and judging boxes and spots", 0.1);
    Plan plan = make_plan(session.scenario, session.driver, session.timings);
    const ClosedBox to_build =
        closed_box(session.driver, plan.boxes[plan.build].volume, session.scenario.design.filling);
    compare_if_asked(session, to_build, plan.at_build, plan.agreement);
    const PlanWords words = plan_words(plan, session.scenario, request.units);
    if (const std::string loaded = cone_load_words(session, plan.at_build); !loaded.empty())
        session.warnings.push_back(
            loaded + " It is counted in the responses at the chosen spot, not in the ranking.");
    for (const std::string& text :
         unknown_limits(session.driver, session.scenario.design.amplifier))
        session.warnings.push_back(text);
    const auto counts = plan_counts(session);
    SubsPlan subs;
    if (!counts.empty()) subs = plan_subs(session, plan, counts);
    const Listening& advised = counts.empty() ? plan.at_build : subs.options[subs.advice].heard;
    const bool crossed = has_crossing(session.scenario);
    Crossing crossing;
    if (crossed)  // for what is advised: several boxes where that was asked
        crossing = cross(session.scenario, session.driver, advised);
    const auto notes = notes_of(session.scenario, advised);
    const DecayPicture decay =
        picture_of_decay(session.scenario, session.driver, to_build, advised, notes);
    const auto pictures = session.write_maps(plan.maps);
    const double start = seconds_now();
    session.results.write("plan.h5", plan_hdf5(plan, words, session.provenance()));
    session.results.write("plan.csv", plan_csv(plan));
    session.results.write("curves.csv", curves_csv(plan.at_build));
    const std::string build_section = plan_build_section(session, plan);
    const auto report = session.folder() / "report.html";
    session.results.write(
        "report.html",
        html_report({session.scenario, plan, words, pictures, request.units, BOXROOM_VERSION,
                     session.warnings, live_page(session.scenario, plan, request.units),
                     build_section, counts.empty() ? nullptr : &subs,
                     crossed ? &crossing : nullptr, notes, decay}));
    if (crossed) write_crossing_csv(session, crossing, session.scenario.seats);
    session.timings["write"] += seconds_now() - start;

    Answer answer{plan_text(plan, words, request.file, report.string()),
                  plan_json(plan, words, report.string())};
    add_ringing(answer, notes);
    if (!counts.empty()) add_subs(answer, subs, request.units);
    if (crossed) add_crossing(answer, crossing, session.scenario.seats);
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
