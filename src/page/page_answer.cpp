#include "page/page_answer.hpp"

#include <algorithm>
#include <cstdlib>
#include <new>

#include "answers/box_answer.hpp"
#include "answers/build_answer.hpp"
#include "answers/build_text.hpp"
#include "answers/check_answer.hpp"
#include "answers/listen_answer.hpp"
#include "answers/plan_answer.hpp"
#include "answers/recordings_answer.hpp"
#include "base/error.hpp"
#include "live/room_fields.hpp"
#include "page/page_inquiry.hpp"
#include "page/page_recordings.hpp"
#include "picture/box_drawing.hpp"
#include "placement/building.hpp"
#include "placement/listening.hpp"
#include "placement/standing.hpp"
#include "report/box_charts.hpp"
#include "report/chart_picture.hpp"
#include "report/page_document.hpp"
#include "report/recording_charts.hpp"
#include "report/report_build.hpp"
#include "report/setup_card.hpp"
#include "room_file/document.hpp"
#include "room_file/room_file.hpp"
#include "room_file/room_file_editor.hpp"
#include "solvers/constructions.hpp"
#include "solvers/contents.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// The boxes of the file's subs from above [m], and the line that says where each stands: the rest
/// of the floor is what the file has.
Json floor_json(const Inquiry& inquiry) {
    const Scenario& s = inquiry.scenario;
    Json subs = Json::array();
    std::vector<std::string> said;  // by the commands that build or hear it
    const ClosedBox box = chosen_box(s, inquiry.driver, said);
    for (std::size_t n = 0; n < s.placed.subs.size(); ++n) {
        const PlacedSub& sub = s.placed.subs[n];
        const BoxStanding at = standing_in_file(s, n, box.volume);
        const Point& c = at.footprint;
        const double w = at.sides.width / 2, d = at.sides.depth / 2;
        const bool by_box = place_of(s, n).footprint.has_value();
        const Point& written = by_box ? c : sub.at;
        subs.push_back({{"name", sub.name},
                        {"from", {c.x - w, c.y - d}},
                        {"to", {c.x + w, c.y + d}},
                        {"key", by_box ? "box_at" : "at"},
                        {"written", {written.x, written.y}}});
    }
    return {{"subs", subs}};
}

Json check(PageInquiry& inquiry) {
    const Json floor = floor_json(inquiry);
    Json out = closed_answer(inquiry, check_answer(inquiry));
    out["floor"] = floor;
    return out;
}

/// A box of this net volume [m3] or Qtc, or the file's, with a smaller and a larger one: numbers,
/// words, and their responses as SVG.
Json box(const PageInquiry& inquiry, const Json& request) {
    const Scenario& s = inquiry.scenario;
    std::vector<std::string> said;
    const double own = request.contains("volume_m3") ? request["volume_m3"].get<double>()
                       : request.contains("wanted_qtc")
                           ? closed_box_for_qtc(inquiry.driver, request["wanted_qtc"].get<double>(),
                                                s.design.filling)
                                 .volume
                           : chosen_box(s, inquiry.driver, said).volume;
    constexpr double apart = 1.6;  // boxes that a builder would call another size
    std::vector<ClosedBox> boxes;
    for (const double size : {own, own / apart, own * apart})
        boxes.push_back(closed_box(inquiry.driver, size, s.design.filling));
    Answer answer = box_answer(inquiry.driver, s.acoustics.air, boxes, inquiry.wishes.units);
    const auto charts = box_charts(inquiry.driver, s.design.amplifier, s.acoustics.air, boxes,
                                   inquiry.wishes.units);
    return {{"status", 0},
            {"answer", std::move(answer.json)},
            {"text", std::move(answer.text)},
            {"files",
             {{"response.svg", chart_picture(charts.front(), request.value("narrow", false))}}}};
}

/// The cut list and the drawings among the files; returns the drawings, the box first.
std::vector<std::string> add_build_files(const BoxBuild& build, Units units, Json& files) {
    std::vector<std::string> drawings;
    files["cut_list.csv"] = cut_list_csv(build);
    for (const auto& [name, page] : build_drawings(build, units)) {
        drawings.push_back(drawing_svg(page));
        files[name + ".svg"] = drawings.back();
    }
    return drawings;
}

Json listen(PageInquiry& inquiry, const Json& request) {
    const auto recorded = heard_tables(inquiry, request, inquiry.scenario.acoustics.frequency);
    const HeardFile heard = hear_file(inquiry);
    Answer answer = listen_answer(inquiry, heard);
    const auto beside = beside_predictions(inquiry, heard.box, recorded);
    add_recordings(answer, inquiry, beside);
    Json files = Json::object();
    for (std::size_t n = 0; n < beside.size(); ++n)
        files["measured_" + std::to_string(n + 1) + ".svg"] =
            chart_picture(beside_chart(beside[n], n), request.value("narrow", false));
    Json out = closed_answer(inquiry, std::move(answer), std::move(files));
    out["words"] = recordings_words(beside, inquiry.scenario.judgement.target.band);
    return out;
}

/// What the live answer would else have to learn again.
std::string learnt_of(const Scenario& scenario) {
    const Acoustics& a = scenario.acoustics;
    if (a.room.is_rectangle() || a.solver.solver != RoomSolver::modal) return "";
    const auto [key, bytes] = a.solver.solved->kept(a.room, a.air, a.frequency.back());
    return kept_room(key, bytes.joined());
}

Json plan(PageInquiry& inquiry, const Json& request, std::string* learnt) {
    require_memory_for_plan(inquiry);
    const auto recorded = heard_tables(inquiry, request, inquiry.scenario.acoustics.frequency);
    Planned planned = find_plan(inquiry);
    if (!recorded.empty())
        planned.beside = beside_predictions(
            inquiry, chosen_box(inquiry.scenario, inquiry.driver, inquiry.warnings), recorded);
    Json files{{"planned.toml", planned.file}};
    std::string section;
    if (const auto build = build_of(inquiry, planned.decision())) {
        section = build_html(*build, add_build_files(*build, inquiry.wishes.units, files),
                             inquiry.wishes.units);
    }
    const ReportInput input = report_input(inquiry, planned, section, engine_of_the_page);
    files["report.html"] = html_report(input);
    files["setup.html"] = setup_card(input);
    Answer answer = plan_answer(inquiry, planned, "");
    add_recordings(answer, inquiry, planned.beside);
    if (learnt) *learnt = learnt_of(inquiry.scenario);
    return closed_answer(inquiry, std::move(answer), std::move(files));
}

Json build(PageInquiry& inquiry) {
    const BoxToSaw saw = box_to_saw(inquiry, std::nullopt, "the page saws what its file says");
    const BoxBuild made =
        build_box(inquiry.scenario, inquiry.driver, saw.box, inquiry.wishes.units);
    const Units units = inquiry.wishes.units;
    Json files = Json::object();
    files["build.html"] = build_html(made, add_build_files(made, units, files), units);
    return closed_answer(inquiry, build_answer(inquiry, saw, made), std::move(files));
}

Json look(const std::string& text) {
    const TomlDocument document = toml_document(text, page_file);
    return {{"status", 0},
            {"document", Json::parse(document.json)},
            {"lines", document.lines},
            {"lengths", document.lengths}};
}

Json edit(const Json& request) {
    RoomFileEditor editor(request.at("text").get<std::string>());
    for (const Json& one : request.at("edits")) {
        const std::string path = one.at("path");
        if (one.contains("add")) {
            editor.add_table(path, one.at("add").get<std::vector<std::string>>());
        } else if (one.contains("remove")) {
            const auto index = one.at("remove").get<std::size_t>();
            if (index >= editor.count(path))
                throw Error(page_file, "there is no [[" + path + "]] of that number",
                            "take one away that stands there");
            editor.comment_out(path, index);
        } else if (one.contains("rename")) {
            if (editor.has(path)) editor.rename(path, one.at("rename"));
        } else if (one.contains("comment")) {
            editor.comment_out_entry(path);
        } else if (one.contains("metres")) {
            editor.set(path, Quantity::length, one.at("metres").get<double>());
        } else {
            editor.set_toml(path, one.at("toml").get<std::string>());
        }
    }
    return {{"status", 0}, {"text", editor.text()}};
}

Json names() {
    Json out{{"status", 0}, {"constructions", Json::array()}, {"contents", Json::array()}};
    for (const Construction& one : constructions()) out["constructions"].push_back(one.name);
    for (const NamedContents& one : named_contents()) out["contents"].push_back(one.name);
    return out;
}

Json answer_to(const Json& request, const PageProgress& tell, std::string* learnt) {
    const std::string command = request.at("command");
    if (command == "names") return names();
    if (command == "start") return {{"status", 0}, {"text", starter_room_file(units_of(request))}};
    if (command == "look") return look(request.at("text"));
    if (command == "edit") return edit(request);
    PageInquiry inquiry(request, tell);
    if (command == "check") return check(inquiry);
    if (command == "box") return box(inquiry, request);
    if (command == "listen") return listen(inquiry, request);
    if (command == "plan") return plan(inquiry, request, learnt);
    if (command == "build") return build(inquiry);
    if (command == "fit") return page_fit(inquiry, request);
    if (command == "fit_time") return page_fit_time(inquiry, request);
    throw Error(command, "the page has no such command",
                "ask for check, listen, plan, build or fit");
}

Json faults_json(const Error& error) {
    Json all = Json::array();
    for (const Fault& fault : error.faults()) {
        Json one{{"where", fault.where}, {"what", fault.what}, {"mend", fault.mend}};
        const std::string file = std::string(page_file) + ":";
        if (fault.where.starts_with(file))
            one["line"] = std::atoi(fault.where.c_str() + file.size());
        all.push_back(std::move(one));
    }
    return {{"status", 2}, {"faults", all}};
}

Json trouble(const std::string& what) {
    return {{"status", 1}, {"trouble", what}};
}

}  // namespace

std::string page_answer(const std::string& request, const PageProgress& tell, std::string* learnt) {
    Json answer;
    try {
        answer = answer_to(Json::parse(request), tell, learnt);
    } catch (const Error& error) {
        answer = faults_json(error);
    } catch (const std::bad_alloc&) {
        answer = trouble("there is not enough memory for this: take fewer spots ([spots] step)");
    } catch (const std::exception& error) {
        answer = trouble(error.what());
    }
    return answer.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace boxroom
