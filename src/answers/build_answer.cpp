#include "answers/build_answer.hpp"

#include <numbers>

#include "answers/build_text.hpp"
#include "answers/option_value.hpp"
#include "base/error.hpp"
#include "placement/building.hpp"
#include "placement/listening.hpp"

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

/// The contract's keys and what else there is to say about a box.
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
        {"tipping_angle_deg", b.tipping_angle * 180 / std::numbers::pi},
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

}  // namespace

BoxToSaw box_to_saw(Inquiry& inquiry, const std::optional<Scenario>& planned,
                    const std::string& no_plan) {
    const Wishes& wishes = inquiry.wishes;
    const Scenario& s = inquiry.scenario;
    const auto made = [&](double volume) {
        return closed_box(inquiry.driver, volume, s.design.filling);
    };
    if (wishes.qtc && wishes.volume)
        throw Error("build", "--qtc and --volume are both given", "give one of them");
    const char* asked = "This is the box that was asked for on the command line.";
    if (wishes.qtc)
        return {
            closed_box_for_qtc(inquiry.driver, option_value("--qtc", *wishes.qtc, Quantity::plain),
                               s.design.filling),
            asked};
    if (wishes.volume)
        return {made(option_value("--volume", *wishes.volume, Quantity::volume)), asked};
    if (planned && planned->design.box_volume)
        return {made(*planned->design.box_volume),
                "This is the box that `plan` decided on for this file."};
    return {chosen_box(s, inquiry.driver, inquiry.warnings),
            std::string("This is the ") +
                (s.design.box_volume ? "[box] volume of the file" : "textbook box, Qtc 0.707") +
                "; `plan` was not asked (" + no_plan + ")."};
}

std::optional<BoxBuild> build_of(Inquiry& inquiry, const Decision& decision) {
    try {
        const ClosedBox box =
            closed_box(inquiry.driver, decision.first().volume, inquiry.scenario.design.filling);
        return build_box(inquiry.scenario, inquiry.driver, box, inquiry.wishes.units);
    } catch (const Error& error) {
        for (const Fault& fault : error.faults())
            inquiry.warnings.push_back("the box cannot be drawn: " + fault.where + ": " +
                                       fault.what + "; " + fault.mend);
        return std::nullopt;
    }
}

Answer build_answer(const Inquiry& inquiry, const BoxToSaw& box, const BoxBuild& build) {
    Answer answer{box.which + "\n" + build_text(build, inquiry.wishes.units), build_json(build)};
    answer.json["which"] = box.which;
    return answer;
}

}  // namespace boxroom
