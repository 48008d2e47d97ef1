#include "report/live_controls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "placement/room_surfaces.hpp"
#include "report/html_text.hpp"
#include "report/report_charts.hpp"
#include "solvers/constructions.hpp"
#include "solvers/floor_outline.hpp"

namespace boxroom {
namespace {

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

std::string surface_name(const RoomSurface& surface, const Room& room) {
    switch (surface.of) {
        case RoomSurface::Of::walls:
            return wall_names[surface.index];
        case RoomSurface::Of::edges:
            return surface.name + ", " + wall_names[wall_of_edge(room.plan.outline, surface.index)];
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

}  // namespace

std::string live_controls(const ReportInput& in) {
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

}  // namespace boxroom
