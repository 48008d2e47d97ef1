#include "answers/plan_answer.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "answers/criteria_output.hpp"
#include "answers/crossing_output.hpp"
#include "answers/decision_output.hpp"
#include "answers/listening_output.hpp"
#include "answers/ringing_output.hpp"
#include "answers/set_output.hpp"
#include "answers/solver_output.hpp"
#include "live/flat_scenario.hpp"
#include "picture/colour_map.hpp"
#include "placement/box_sweep.hpp"
#include "placement/crossing.hpp"
#include "placement/floor_need.hpp"
#include "placement/room_states.hpp"
#include "room_file/planned_file.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

DecisionAsk asked(const Inquiry& inquiry) {
    DecisionAsk ask;
    if (const auto counts = plan_counts(inquiry); !counts.empty())
        ask.counts = counts, ask.all_must_fit = true, ask.most_draws = 100000, ask.drawn_sets = 10;
    const PlannedUnits units = planned_units(inquiry.scenario.source_text);
    ask.length = units.length, ask.volume = units.volume;
    ask.tell = [&inquiry](const std::string& phase, double share) { inquiry.say(phase, share); };
    return ask;
}

/// What lets the answer in the report answer back.
LivePage live_page(const Scenario& scenario, const Decided& decided, const std::string& planned,
                   Units units) {
    LivePage page;
    const auto& subs = decided.decision.subs;
    const bool alike = std::ranges::all_of(
        subs, [&](const DecidedSub& sub) { return sub.volume == subs.front().volume; });
    const bool on_grid = scenario.acoustics.solver.solver == RoomSolver::grid;
    if (!alike || scenario.placed.cone_load || (on_grid && !scenario.acoustics.room.is_rectangle()))
        return {};  // the engine knows boxes of one size and free cones, and solves no grids
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

Json plan_json(const Planned& planned) {
    const Plan& plan = planned.plan();
    const Decision& decision = planned.decision();
    const PlanWords& words = planned.words;
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
    if (plan.agreement.known()) json["solver_agreement"] = agreement_json(plan.agreement);
    return json;
}

std::string plan_text(const PlanWords& words) {
    std::string text = words.recommendation + "\n";
    for (const std::string& place : words.places) text += "  " + place + "\n";
    for (const std::string& sentence :
         {words.reason_spot, words.reason_box, words.how_much, words.reason_level, words.agreement,
          words.days, words.how_sure})
        if (!sentence.empty()) text += sentence + "\n";
    for (const std::string& other : words.alternatives) text += "Alternative: " + other + "\n";
    return text;
}

}  // namespace

void require_memory_for_plan(const Inquiry& inquiry) {
    require_memory_for_floor(
        inquiry.scenario, boxes_to_try(inquiry.scenario, inquiry.driver).back(),
        plan_counts(inquiry) == std::vector{1} ? FloorSearch::boxes : FloorSearch::many_subs,
        1e9 * inquiry.wishes.memory);
}

Planned find_plan(Inquiry& inquiry, const std::function<void(const Plan&)>& found) {
    const Scenario& scenario = inquiry.scenario;
    Planned planned;
    planned.drivers = compare_drivers(scenario, inquiry.timings);
    if (planned.drivers.chosen >= 0) {
        take_driver(planned.drivers.rows[planned.drivers.chosen].name, inquiry.scenario);
        inquiry.driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    }
    planned.decided = decide(scenario, inquiry.driver, asked(inquiry), inquiry.timings);
    Plan& plan = planned.decided.plan;
    if (found) found(plan);
    // From here on the room is as it is on the day that counts.
    inquiry.scenario = states_of(scenario)[planned.decision().states.worse];
    const Listening& heard = planned.decision().heard;
    const ClosedBox to_build =
        closed_box(inquiry.driver, planned.decision().first().volume, scenario.design.filling);
    compare_if_asked(inquiry, to_build, heard, plan.agreement);
    planned.words = plan_words(plan, planned.decision(), scenario, inquiry.wishes.units);
    if (const std::string loaded = cone_load_words(inquiry, heard); !loaded.empty())
        inquiry.warnings.push_back(
            loaded + " It is counted in the responses at the chosen spot, not in the ranking.");
    warn_of_unknown_limits(inquiry);
    if (has_crossing(scenario)) planned.crossing = cross(scenario, inquiry.driver, heard);
    planned.notes = notes_of(scenario, heard);
    planned.decay = picture_of_decay(scenario, inquiry.driver, to_build, heard, planned.notes);
    planned.file = planned_room_file(scenario, planned.decision());
    return planned;
}

ReportInput report_input(const Inquiry& inquiry, const Planned& planned,
                         const std::string& build_section, std::string_view engine) {
    const Units units = inquiry.wishes.units;
    return {inquiry.scenario,
            planned.plan(),
            planned.decision(),
            planned.words,
            units,
            BOXROOM_VERSION,
            inquiry.warnings,
            engine,
            engine.empty() ? LivePage()
                           : live_page(inquiry.scenario, planned.decided, planned.file, units),
            build_section,
            &planned.decided.subs,
            planned.crossing ? &*planned.crossing : nullptr,
            planned.notes,
            planned.decay,
            planned.beside};
}

Answer plan_answer(const Inquiry& inquiry, const Planned& planned, const std::string& where) {
    Answer answer{plan_text(planned.words) + where, plan_json(planned)};
    add_drivers(answer, planned.drivers, inquiry.wishes.units);
    add_ringing(answer, planned.notes);
    add_subs(answer, planned.decided.subs);
    if (planned.crossing) add_crossing(answer, *planned.crossing, inquiry.scenario.seats);
    return answer;
}

}  // namespace boxroom
