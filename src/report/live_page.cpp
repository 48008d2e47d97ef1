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

std::string slider(const std::string& id, const std::string& name, const std::string& range) {
    return fmt::format(
        "<div class=\"field\"><label for=\"live-{0}\">{1}</label><input type=\"range\" "
        "id=\"live-{0}\" {2}><output id=\"live-{0}-out\" for=\"live-{0}\"></output></div>",
        id, name, range);
}

std::string choice(const std::string& id, const std::string& name,
                   const std::vector<std::string>& options) {
    std::string out = fmt::format(
        "<div class=\"field\"><label for=\"live-{0}\">{1}</label><select id=\"live-{0}\">", id,
        name);
    for (std::size_t i = 0; i < options.size(); ++i)
        out += fmt::format("<option value=\"{}\">{}</option>", i, options[i]);
    return out + "</select></div>";
}

std::string names() {
    std::string out;
    for (const Construction& c : constructions())
        out += fmt::format("<option>{}</option>", escape_html(c.name));
    return out;
}

/// What a wall and a part of it may be made of; the values are the names themselves.
std::string materials() {
    std::string out =
        "<div class=\"field\"><label for=\"live-material\">made of</label><select "
        "id=\"live-material\"><option value=\"\">as in the file</option><option "
        "value=\"#\">what absorbs as set below</option>";
    return out + names() +
           "</select><output id=\"live-material-out\" for=\"live-material\"></output></div>" +
           "<div class=\"field\"><label for=\"live-part\">with a part that is</label><select "
           "id=\"live-part\"><option value=\"\">nothing else</option>" +
           names() + "</select></div>";
}

std::string preset(const char* name, const BoxOption* box) {
    return box ? fmt::format("<button type=\"button\" data-volume=\"{}\">{}</button>", box->volume,
                             name)
               : "";
}

/// Several boxes have dials, and one of them is spoken of at a time.
std::string dials(const ReportInput& in) {
    if (in.decision.subs.size() < 2) return "";
    const SettingSteps& steps = in.scenario.wanted.steps;
    double low = steps.lowest_gain, high = 0, longest = steps.longest_delay;
    for (const DecidedSub& sub : in.decision.subs) {
        low = std::min(low, sub.dial.gain_db), high = std::max(high, sub.dial.gain_db);
        longest = std::max(longest, sub.dial.delay);
    }
    return slider("gain", "its gain",
                  fmt::format("min=\"{:.1f}\" max=\"{:.1f}\" step=\"0.1\"", low, high)) +
           slider("delay", "its delay",
                  fmt::format("min=\"0\" max=\"{:.1f}\" step=\"0.1\"", longest * 1e3)) +
           choice("polarity", "its polarity", {"normal", "reversed"});
}

std::string which_box(const ReportInput& in) {
    std::vector<std::string> names;
    for (const DecidedSub& sub : in.decision.subs)
        names.push_back(escape_html(shortened_text(sub.name, 40)));
    return names.size() < 2 ? "" : choice("which", "which box", names);
}

/// Rooms whose fields are learnt; a draft is shown of what they have not learnt yet.
bool must_be_learnt(const ReportInput& in) {
    return !in.scenario.acoustics.room.is_rectangle();
}

/// Which way the outer side of an edge looks, as the walls of a rectangle are called.
const char* side_of(const std::vector<Point>& outline, std::size_t edge) {
    const Point &from = outline[edge], &to = outline[(edge + 1) % outline.size()];
    const double way = signed_area(outline) > 0 ? 1 : -1;
    const double x = way * (to.y - from.y), y = way * (from.x - to.x);
    if (std::abs(x) > std::abs(y)) return wall_names[x > 0 ? right_wall : left_wall];
    return wall_names[y > 0 ? back_wall : front_wall];
}

std::string surface_name(const RoomSurface& surface, const Room& room) {
    switch (surface.of) {
        case RoomSurface::Of::walls:
            return wall_names[surface.index];
        case RoomSurface::Of::edges:
            return surface.name + ", " + side_of(room.plan.outline, surface.index);
        case RoomSurface::Of::blocks:
            break;
    }
    return escape_html(shortened_text(surface.name, 40));
}

std::string wall_controls(const ReportInput& in) {
    const Room& room = in.scenario.acoustics.room;
    std::vector<std::string> names;
    for (const RoomSurface& surface : room_surfaces(in.scenario))
        names.push_back(surface_name(surface, room));
    const bool six = room.is_rectangle();
    return choice("wall", six ? "wall" : "surface", names) + materials() +
           slider("part-area", "how large that part is", "min=\"2\" max=\"90\"") +
           slider("absorption", "what it absorbs", "min=\"0\" max=\"200\"") +
           slider("softness",
                  six ? "all six walls harder or softer" : "all of them harder or softer",
                  "min=\"-40\" max=\"40\"");
}

std::string controls(const ReportInput& in) {
    const Plan& plan = in.plan;
    const bool one = in.decision.subs.size() == 1;
    return "<details id=\"live-fold\" class=\"when-live\" hidden><summary>Try another size, other "
           "settings or other walls</summary>"
           "<form class=\"controls\" id=\"live-controls\" aria-label=\"Boxes and walls\">"
           "<fieldset><legend>" +
           std::string(one ? "The box" : "The boxes") + "</legend>" +
           slider("volume", one ? "net volume" : "net volume of each", "min=\"0\" max=\"400\"") +
           "<p class=\"buttons\">" + preset("Build this", box_option(plan, plan.build)) +
           preset("Endless floor, same rule", box_option(plan, plan.half_space_build)) +
           preset("Textbook", box_option(plan, plan.textbook)) + "</p>" +
           slider("filling", "filling: how much larger the air inside seems",
                  "min=\"1\" max=\"1.4\" step=\"0.01\"") +
           which_box(in) +
           choice("facing", one ? "driver looks" : "its driver looks",
                  {"away from the nearest wall", "to the left wall", "to the right wall",
                   "to the front wall", "to the back wall", "up", "down"}) +
           dials(in) + "</fieldset><fieldset><legend>The walls</legend>" + wall_controls(in) +
           "</fieldset></form></details>";
}

/// What is done with what was tried.
const char* const actions =
    "<div class=\"acting when-live\" hidden><p class=\"buttons\"><button type=\"button\" "
    "id=\"live-undo\" disabled>Take back</button><button type=\"button\" id=\"live-reset\">Reset "
    "all</button><button type=\"button\" id=\"live-copy\">Copy as room file</button></p><details "
    "id=\"live-file\" hidden><summary>The room file of what you see</summary><textarea readonly "
    "rows=\"12\" spellcheck=\"false\" aria-label=\"Room file of what you "
    "see\"></textarea></details></div>";

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
                       controls(in) + data_json(in)
                 : "");
}

}  // namespace boxroom
