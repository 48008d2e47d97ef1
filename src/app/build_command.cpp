// build: the chosen box as something one can saw.
#include <fmt/format.h>

#include "app/build_parts.hpp"
#include "app/build_text.hpp"
#include "app/decision_output.hpp"
#include "app/drawing.hpp"
#include "app/option_value.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "placement/building.hpp"
#include "report/report_build.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

Json millimetres(const Sides& sides) {
    return {sides.width * 1e3, sides.depth * 1e3, sides.height * 1e3};
}

/// The panels of the shell, which fill outer less inner volume exactly where they are butted; or
/// what stands inside them.
Json panels_json(const BoxBuild& b, bool inside) {
    Json all = Json::array();
    for (const Panel& p : b.panels) {
        if (p.inside != inside) continue;
        all.push_back({{"name", p.name},
                       {"count", p.count},
                       {"length_mm", p.length * 1e3},
                       {"width_mm", p.width * 1e3},
                       {"edges", p.edges},
                       {"piece_volume_l", p.volume * 1e3}});
        if (p.window) all.back()["window_mm"] = {(*p.window)[0] * 1e3, (*p.window)[1] * 1e3};
    }
    return all;
}

/// The box asked for: by option; else the plan's, where one of this very text lies in the results
/// folder; else the file's own. `which` says which, and why.
ClosedBox box_to_saw(Session& session, std::string& which) {
    const Request& request = session.request;
    const Scenario& s = session.scenario;
    const auto made = [&](double volume) {
        return closed_box(session.driver, volume, s.design.filling);
    };
    which = "This is the box that was asked for on the command line.";
    if (request.qtc)
        return closed_box_for_qtc(
            session.driver, option_value("--qtc", *request.qtc, Quantity::plain), s.design.filling);
    if (request.volume) return made(option_value("--volume", *request.volume, Quantity::volume));
    if (const auto planned = planned_scenario(session); planned && planned->design.box_volume) {
        which = "This is the box that `plan` decided on for this file.";
        return made(*planned->design.box_volume);
    }
    which = std::string("This is the ") +
            (s.design.box_volume ? "[box] volume of the file" : "textbook box, Qtc 0.707") +
            "; `plan` was not asked (no plan of this file in " + session.folder().string() + ").";
    return chosen_box(s, session.driver, session.warnings);
}

}  // namespace

Json build_json(const BoxBuild& b) {
    Json json = {
        {"net_l", b.net * 1e3},
        {"filling_gain", b.filling_gain},
        {"apparent_l", b.apparent * 1e3},
        {"driver_l", b.driver * 1e3},
        {"amplifier_l", b.amplifier * 1e3},
        {"bracing_l", b.bracing * 1e3},
        {"gross_l", b.gross * 1e3},
        {"asked_net_l", b.asked_net * 1e3},
        {"qtc", b.qtc},
        {"fc_hz", b.fc},
        {"qtc_range", {b.qtc_low, b.qtc_high}},
        {"sides", {"width", "depth", "height"}},
        {"inner_mm", millimetres(b.inner)},
        {"outer_mm", millimetres(b.outer)},
        {"thickness_mm", b.thickness * 1e3},
        {"material", b.material},
        {"joint", b.joint},
        {"panels", panels_json(b, false)},
        {"inner_parts", panels_json(b, true)},
        {"sheets", b.cutting.sheets},
        {"waste_percent", 100 * b.cutting.waste},
        {"weight_kg", b.weight},
        {"filling_kg", b.filling_mass},
        {"centre_of_gravity_mm",
         {b.centre_of_gravity.x * 1e3, b.centre_of_gravity.y * 1e3, b.centre_of_gravity.z * 1e3}},
        {"tipping_angle_deg", b.tipping_angle * 180 / M_PI},
        {"tipping_push_n", b.tipping_push},
        {"first_internal_mode_hz", b.first_internal_mode},
        {"internal_modes_hz", b.internal_modes}};
    if (b.cut_out) json["driver_cut_out_mm"] = *b.cut_out * 1e3;
    Json items = Json::array();
    for (const VolumeItem& item : b.volumes)
        items.push_back({{"name", item.name},
                         {"volume_l", item.volume * 1e3},
                         {"error_l", item.error * 1e3},
                         {"rule", item.rule}});
    json["volumes"] = items;
    json["filling_steps"] = Json::array();
    for (const auto& [gain, volume, qtc] : b.filling_steps)
        json["filling_steps"].push_back(
            {{"gain", gain}, {"apparent_l", volume * 1e3}, {"qtc", qtc}});
    json["remarks"] = b.remarks;
    json["cautions"] = b.cautions;
    return json;
}

Answer run_build(const Request& request) {
    Session session(request);
    expect_drawing();
    const Scenario& s = session.scenario;
    if (request.qtc && request.volume)
        throw Error("build", "--qtc and --volume are both given", "give one of them");
    std::string which;
    const ClosedBox box = box_to_saw(session, which);
    const double start = seconds_now();
    const BoxBuild build = build_box(s, session.driver, box, request.units);
    session.timings["build"] = seconds_now() - start;

    Answer answer{which + "\n" + build_text(build, request.units), build_json(build)};
    answer.json["which"] = which;
    write_build_files(session, build, true);
    answer.text += "\nCut list and drawings in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

std::vector<std::string> write_build_files(Session& session, const BoxBuild& build, bool pictures) {
    std::vector<std::string> drawings;
    const double start = seconds_now();
    const Units units = session.request.units;
    std::vector<std::pair<std::string, Drawing>> pages{
        {"box", drawing().box_drawing(build, units)}};
    for (int sheet = 0; sheet < build.cutting.sheets; ++sheet)
        pages.emplace_back(fmt::format("cutting_plan_{}", sheet + 1),
                           drawing().sheet_drawing(build, sheet, units));
    session.results.write("cut_list.csv", cut_list_csv(build), sawing_set);
    for (const auto& [name, page] : pages) {
        drawings.push_back(drawing().drawing_svg(page));
        session.results.write(name + ".svg", drawings.back(), sawing_set);
        if (pictures) session.results.write(name + ".png", drawing().drawing_png(page), sawing_set);
    }
    session.timings["write"] += seconds_now() - start;
    return drawings;
}

std::string plan_build_section(Session& session, const Decision& decision) {
    session.results.replaces(sawing_set);  // drawings of another box would pass for this one's
    try {
        const ClosedBox box =
            closed_box(session.driver, decision.first().volume, session.scenario.design.filling);
        const Units units = session.request.units;
        const BoxBuild build = build_box(session.scenario, session.driver, box, units);
        return build_html(build, write_build_files(session, build, false), units);
    } catch (const Error& error) {
        for (const Fault& fault : error.faults())
            session.warnings.push_back("the box cannot be drawn: " + fault.where + ": " +
                                       fault.what + "; " + fault.mend);
        return "";
    }
}

}  // namespace boxroom
