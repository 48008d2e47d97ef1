#include "report/live_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "placement/room_surfaces.hpp"
#include "placement/spots.hpp"
#include "report/floor_plan.hpp"
#include "report/html_text.hpp"
#include "report/live_controls.hpp"
#include "report/report_charts.hpp"
#include "results/criterion.hpp"
#include "room_file/room_file_editor.hpp"
#include "solvers/constructions.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// "lower is better in all but level".
std::string which_way_is_good() {
    std::string but;
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false) && !c.low_is_good)
            but += (but.empty() ? " but " : " and ") + std::string(c.label);
    return "lower is better in all" + but;
}

/// What the place is worth; the script adds a column for what is being tried.
std::string worth_table(const ReportInput& in) {
    std::string rows;
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false))
            rows += fmt::format("<tr><th scope=\"row\" class=\"words\">{}</th><td>{} {}</td></tr>",
                                c.label, decimal(in.plan.at_build.criteria.*c.member, c.decimals),
                                c.unit);
    return "<table class=\"worth\"><caption>What the seats get</caption><thead><tr><th "
           "scope=\"col\" class=\"words\">" +
           which_way_is_good() + "</th><th scope=\"col\">recommended</th></tr></thead><tbody>" +
           rows + "</tbody></table>";
}

/// What is done with what was tried.
const char* const actions =
    "<div class=\"acting when-live\" hidden><p class=\"buttons\"><button type=\"button\" "
    "id=\"live-undo\" disabled>Take back</button><button type=\"button\" id=\"live-reset\">Reset "
    "all</button><button type=\"button\" id=\"live-copy\">Copy as room file</button></p><details "
    "id=\"live-file\" hidden><summary>The room file of what you see</summary><textarea readonly "
    "rows=\"12\" spellcheck=\"false\" aria-label=\"Room file of what you "
    "see\"></textarea></details></div>";

/// Rooms whose fields are learnt; a draft is shown of what they have not learnt yet.
bool must_be_learnt(const ReportInput& in) {
    return !in.scenario.acoustics.room.is_rectangle();
}

Json wall_json(const Wall& wall, const Air& air) {
    Json branches = Json::array();
    for (const Branch& b : wall.branches) branches.push_back({b.resistance, b.mass, b.stiffness});
    const auto beta = wall.admittance(2 * std::numbers::pi * 125, air);
    return {{"branches", branches},
            {"absorption", std::abs(beta) == 0 ? 0 : random_incidence_absorption(beta)}};
}

/// planned.toml, cut where the page may put in another value.
std::vector<FilePiece> file_pieces(const ReportInput& in) {
    const Scenario& s = in.scenario;
    RoomFileEditor file(in.live.file);
    const std::vector<RoomSurface> surfaces = room_surfaces(s);
    for (std::size_t w = 0; w < surfaces.size(); ++w)
        file.leave_word(fmt::format("wall {}", w), surfaces[w].path);
    file.leave("volume", "box.volume", Quantity::volume);
    file.leave("filling", "box.filling", Quantity::plain, 1);
    for (std::size_t i = 0; i < s.seats.size(); ++i)
        file.leave_place(fmt::format("seat {}", i), "seat", i);
    for (std::size_t n = 0; n < in.decision.subs.size(); ++n) {
        const std::string table = fmt::format("sub[{}].", n);
        file.leave(fmt::format("x {}", n), table + "box_at[0]", Quantity::length);
        file.leave(fmt::format("y {}", n), table + "box_at[1]", Quantity::length);
        file.leave_word(fmt::format("facing {}", n), table + "facing");
        file.leave(fmt::format("gain {}", n), table + "gain", Quantity::level);
        file.leave(fmt::format("delay {}", n), table + "delay", Quantity::time);
        file.leave_word(fmt::format("polarity {}", n), table + "polarity");
        if (file.has(table + "volume")) file.leave("volume", table + "volume", Quantity::volume);
    }
    return file.pieces();
}

Json slot_json(const FileSlot& slot) {
    Json out = {{"name", slot.name}, {"key", slot.key}, {"word", slot.word}};
    out["value"] = slot.value ? Json(*slot.value) : Json();
    out["unit"] = slot.unit.name, out["factor"] = slot.unit.factor;
    out["inches"] = slot.unit.inches;
    out["decimals"] = written_decimals(slot.value.value_or(1), slot.quantity, slot.unit);
    return out;
}

/// A string for text that stays; else was, head, between, tail and slots.
Json file_json(const ReportInput& in) {
    Json out = Json::array();
    for (const FilePiece& piece : file_pieces(in)) {
        if (piece.slots.empty()) {
            out.push_back(piece.was);
            continue;
        }
        Json slots = Json::array();
        for (const FileSlot& slot : piece.slots) slots.push_back(slot_json(slot));
        out.push_back({{"was", piece.was},
                       {"head", piece.head},
                       {"between", piece.between},
                       {"tail", piece.tail},
                       {"slots", slots}});
    }
    return out;
}

/// What the script needs beside the engine. NaN becomes null.
std::string data_json(const ReportInput& in) {
    const Scenario& s = in.scenario;
    const Plan& plan = in.plan;
    const double volume = in.decision.first().volume;
    Json data;
    data["numbers"] = in.live.numbers;
    data["learns"] = must_be_learnt(in);
    data["room"] = {s.acoustics.room.width, s.acoustics.room.length, s.acoustics.room.height};
    for (const Facing facing : all_facings) data["facings"].push_back(facing_name(facing));
    for (const DecidedSub& sub : in.decision.subs)
        data["subs"].push_back({{"name", shortened_text(sub.name, 40)},
                                {"x", sub.footprint.x},
                                {"y", sub.footprint.y},
                                {"facing", static_cast<int>(sub.facing)},
                                {"gain", sub.dial.gain_db},
                                {"delay", sub.dial.delay},
                                {"polarity", sub.dial.polarity}});
    data["wantedFacing"] = static_cast<int>(s.design.enclosure.facing);
    data["volume"] = volume;
    data["filling"] = s.design.filling;
    double low = volume, high = low;
    for (const BoxOption& box : plan.boxes)
        low = std::min(low, box.volume), high = std::max(high, box.volume);
    data["volumes"] = {low, high};
    for (const Seat& seat : s.seats)
        data["seats"].push_back(
            {{"name", shortened_text(seat.name, 60)}, {"at", {seat.at.x, seat.at.y, seat.at.z}}});
    data["walls"] = Json::array();
    for (const RoomSurface& surface : room_surfaces(s)) {
        Json wall = wall_json(surface.in(s.acoustics.room), s.acoustics.air);
        const std::string& made = surface.description;
        wall["made"] = made;
        wall["area"] = surface.area;
        wall["plain"] =
            std::ranges::find(constructions(), made, &Construction::name) != constructions().end();
        data["walls"].push_back(wall);
    }
    for (const Construction& c : constructions())
        data["constructions"][c.name] =
            wall_json(wall_from_construction(c, s.acoustics.air), s.acoustics.air);
    data["file"] = file_json(in);
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false))
            data["criteria"].push_back(
                {{"key", c.key}, {"unit", c.unit}, {"decimals", c.decimals}});
    data["mapStep"] = std::max(s.wanted.spots.step,
                               std::sqrt(s.acoustics.room.width * s.acoustics.room.length / 400));
    data["colours"] = in.live.colours;
    std::string out;
    for (const char c : data.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace))
        out += c == '<' ? "\\u003c" : std::string(1, c);
    return "<script type=\"application/json\" id=\"live-data\">" + out + "</script>";
}

}  // namespace

std::string either_html(const std::string& metric, const std::string& imperial,
                        const ReportInput& in) {
    if (!in.live.on()) return escape_html(in.units == Units::metric ? metric : imperial);
    if (metric == imperial) return escape_html(metric);
    return "<span class=\"metric\">" + escape_html(metric) + "</span><span class=\"imperial\">" +
           escape_html(imperial) + "</span>";
}

std::string length_html(double metres, const ReportInput& in) {
    return either_html(format_length(metres, Units::metric), format_length(metres, Units::imperial),
                       in);
}

std::string volume_html(double cubic_metres, const ReportInput& in) {
    return either_html(format_volume(cubic_metres, Units::metric),
                       format_volume(cubic_metres, Units::imperial), in);
}

std::string unit_switch(const ReportInput& in) {
    if (!in.live.on()) return "";
    const auto button = [&](const char* value, Units units) {
        return fmt::format(
            "<button type=\"button\" data-units=\"{0}\" aria-pressed=\"{1}\">{0}"
            "</button>",
            value, in.units == units);
    };
    return "<div class=\"units\" id=\"live-units\" role=\"group\" aria-label=\"Units\" hidden>" +
           button("metric", Units::metric) + button("imperial", Units::imperial) + "</div>\n";
}

std::string floor_section(const ReportInput& in) {
    const std::string plan = floor_plan_svg(in);
    if (plan.empty()) return "";
    const bool live = in.live.on();
    return "<h3 id=\"floor-title\">The room from above</h3><p class=\"caption\">To scale. Dark "
           "squares are boxes, the thick edge is the driver\u2019s side. Circles are seats." +
           std::string(live ? " <span class=\"when-live\" hidden>Drag one, or use the Tab and "
                              "arrow keys, with Shift in small steps.</span>"
                            : "") +
           "</p><div class=\"floor\"><div class=\"floor-plan\">" + plan +
           (live ? "<div class=\"map-scale\" id=\"map-scale\" hidden></div>" : "") +
           "</div><div class=\"floor-side\">" +
           (live ? "<div id=\"live-chart\" hidden></div>" : "") + worth_table(in) +
           (live && must_be_learnt(in)
                ? "<p id=\"live-draft\" class=\"status\" role=\"status\"></p>"
                : "") +
           (live ? "<p id=\"live-status\" class=\"status\" "
                   "role=\"status\"></p><p id=\"live-decay\" class=\"status\" role=\"status\"></p>"
                   "<p id=\"live-changes\" class=\"status\"></p>"
                 : "") +
           "</div></div>" +
           (live ? std::string(actions) +
                       "<p class=\"when-live note\" hidden>Alive here: the floor, its numbers, "
                       "what the "
                       "seats hear, how they differ, lift and balance. All else stays as "
                       "planned.</p>" +
                       live_controls(in) + data_json(in)
                 : "");
}

}  // namespace boxroom
